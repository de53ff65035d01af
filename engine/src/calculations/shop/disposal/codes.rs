//! Codes of the European list of waste that may fit a stream: candidates to confirm.
//!
//! Source: Commission Decision 2000/532/EC as amended by 2014/955/EU; an asterisk
//! marks hazardous waste. 12 01 10*, synthetic machining oils, is for neat oils and no
//! candidate here: what is mixed with water falls under emulsions and solutions.

use super::answer::{CodeCandidate, CodesToConfirm};
use super::question::{MetalCut, WasteFacts};
use super::stream::WasteStream;
use crate::quantity::Quantity;
use std::borrow::Cow;

type Entry = (&'static str, &'static str);

const FERROUS: Entry = ("12 01 01", "ferrous metal filings and turnings");
const NON_FERROUS: Entry = ("12 01 03", "non-ferrous metal filings and turnings");
const WITH_HALOGENS: Entry = ("12 01 08*", "machining emulsions and solutions containing halogens");
const WITHOUT_HALOGENS: Entry = ("12 01 09*", "machining emulsions and solutions free of halogens");
const MACHINING_OIL: Entry =
    ("12 01 07*", "mineral-based machining oils free of halogens (except emulsions and solutions)");
const MACHINING_OIL_HALOGENS: Entry = (
    "12 01 06*",
    "mineral-based machining oils containing halogens (except emulsions and solutions)",
);
const HYDRAULIC_OIL: Entry = ("13 01 10*", "mineral based non-chlorinated hydraulic oils");
const HYDRAULIC_OIL_CHLORINATED: Entry = ("13 01 09*", "mineral-based chlorinated hydraulic oils");
const LUBRICATING_OIL: Entry =
    ("13 02 05*", "mineral-based non-chlorinated engine, gear and lubricating oils");
const LUBRICATING_OIL_CHLORINATED: Entry =
    ("13 02 04*", "mineral-based chlorinated engine, gear and lubricating oils");
const OTHER_EMULSIONS: Entry = ("13 08 02*", "other emulsions");
const SLUDGE_HAZARDOUS: Entry = ("12 01 14*", "machining sludges containing hazardous substances");
const SLUDGE_OTHER: Entry =
    ("12 01 15", "machining sludges other than those mentioned in 12 01 14");
const METAL_SLUDGE: Entry =
    ("12 01 18*", "metal sludge (grinding, honing and lapping sludge) containing oil");
const WASHING: Entry = ("12 03 01*", "aqueous washing liquids");
const SEPARATOR_SLUDGE: Entry = ("13 05 02*", "sludges from oil/water separators");
const SEPARATOR_OIL: Entry = ("13 05 06*", "oil from oil/water separators");
const SEPARATOR_WATER: Entry = ("13 05 07*", "oily water from oil/water separators");
const PACKAGING_HAZARDOUS: Entry =
    ("15 01 10*", "packaging containing residues of or contaminated by hazardous substances");
const PACKAGING_METAL: Entry = ("15 01 04", "metallic packaging");
const PACKAGING_PLASTIC: Entry = ("15 01 02", "plastic packaging");
const FILTERS_HAZARDOUS: Entry =
    ("15 02 02*", "absorbents, filter materials contaminated by hazardous substances");
const FILTERS_OTHER: Entry =
    ("15 02 03", "absorbents, filter materials other than those mentioned in 15 02 02");

/// What may fit `stream`, given what is known of the waste and whether a recycler
/// splits oil off beside what is skimmed from the sumps.
pub(super) fn candidates(
    stream: WasteStream,
    facts: &WasteFacts,
    recycles: bool,
) -> CodesToConfirm {
    let fluid = by(facts.halogens, &[WITH_HALOGENS], &[WITHOUT_HALOGENS]);
    let entries = match stream {
        WasteStream::SpentFluid | WasteStream::Retentate => fluid,
        WasteStream::WashWater => vec![WASHING],
        WasteStream::Permeate => vec![],
        WasteStream::OilPhase => oils(facts, recycles),
        WasteStream::Sludge => {
            let sludge = by(facts.hazardous_substances, &[SLUDGE_HAZARDOUS], &[SLUDGE_OTHER]);
            [sludge, vec![METAL_SLUDGE, SEPARATOR_SLUDGE]].concat()
        }
        WasteStream::CarriedOff => match facts.metal {
            Some(MetalCut::Ferrous) => vec![FERROUS],
            Some(MetalCut::NonFerrous) => vec![NON_FERROUS],
            None => vec![FERROUS, NON_FERROUS],
        },
        WasteStream::FilterMedia => {
            by(facts.hazardous_substances, &[FILTERS_HAZARDOUS], &[FILTERS_OTHER])
        }
        WasteStream::EmptyDrums => vec![PACKAGING_HAZARDOUS, PACKAGING_METAL, PACKAGING_PLASTIC],
    };
    let candidates = entries
        .into_iter()
        .map(|(code, text)| CodeCandidate { code: Cow::Borrowed(code), text: Cow::Borrowed(text) });
    CodesToConfirm { stream, candidates: candidates.collect() }
}

/// Oil that leaked into the fluid: hydraulic, slideway and gear oil, machining oil, or
/// with too much water in it an emulsion; from a separator where there is one.
fn oils(facts: &WasteFacts, recycles: bool) -> Vec<Entry> {
    let mut oils = vec![HYDRAULIC_OIL, LUBRICATING_OIL, MACHINING_OIL];
    if facts.oil_halogens_ppm.is_none_or(|ppm| ppm.get() > 0.0) {
        oils.extend([
            HYDRAULIC_OIL_CHLORINATED,
            LUBRICATING_OIL_CHLORINATED,
            MACHINING_OIL_HALOGENS,
        ]);
    }
    oils.push(OTHER_EMULSIONS);
    if recycles {
        oils.extend([SEPARATOR_OIL, SEPARATOR_WATER]);
    }
    oils
}

/// One side or the other of a fact, or both where it is not known.
fn by(fact: Option<bool>, yes: &[Entry], no: &[Entry]) -> Vec<Entry> {
    match fact {
        Some(true) => yes.to_vec(),
        Some(false) => no.to_vec(),
        None => [yes, no].concat(),
    }
}
