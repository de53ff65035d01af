//! The table: what each observation means, and what it leads to.
//!
//! This is the one place that decides. A row is about one observation, or about two that
//! hold together; `decision.rs` takes whatever reaches furthest of all that apply. So a
//! decision is never laxer when an observation gets worse, as long as each observation's
//! own rows go that way, which the tests below hold.

use super::answer::{CareAction, Observation, Verdict};
use crate::calculations::sump::dose::ProductKind;

/// What one observation beyond a boundary leads to.
#[derive(Debug, PartialEq)]
pub(super) struct CareRow {
    /// What was observed.
    pub(super) observation: Observation,
    /// The boundary that it is beyond, as a person says it.
    pub(super) boundary: &'static str,
    /// How it stands then.
    pub(super) verdict: Verdict,
    /// What it leads to.
    pub(super) care: Care,
    /// Where the boundary comes from.
    pub(super) source: &'static str,
}

/// What two observations lead to when each stands at least so.
#[derive(Debug, PartialEq)]
pub(super) struct Together {
    /// The observations, and how each stands at least.
    pub(super) of: [(Observation, Verdict); 2],
    /// What they lead to.
    pub(super) care: Care,
    /// Why.
    pub(super) means: &'static str,
    /// Where that comes from.
    pub(super) source: &'static str,
}

/// What is done, and by when.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Care {
    /// What is done.
    pub(super) action: CareAction,
    /// What is dosed, where something is.
    pub(super) product: Option<ProductKind>,
    /// Days within which it is done; 0 is today.
    pub(super) within: f64,
}

impl Care {
    const fn of(action: CareAction, within: f64) -> Self {
        Self { action, product: None, within }
    }

    const fn dose(product: ProductKind, within: f64) -> Self {
        Self { action: CareAction::Dose, product: Some(product), within }
    }

    /// What it is called: "dose a biocide".
    pub(super) const fn words(self) -> &'static str {
        match (self.action, self.product) {
            (CareAction::CarryOn, _) => "carry on",
            (CareAction::TopUp, _) => "top up",
            (CareAction::Circulate, _) => "circulate",
            (CareAction::Skim, _) => "skim",
            (CareAction::Dose, Some(ProductKind::Biocide)) => "dose a biocide",
            (CareAction::Dose, Some(ProductKind::Fungicide)) => "dose a fungicide",
            (CareAction::Dose, Some(ProductKind::Defoamer)) => "dose a defoamer",
            (CareAction::Dose, Some(ProductKind::PhAdjuster)) => "dose a pH adjuster",
            (CareAction::Dose, Some(ProductKind::HardeningSalt)) => "dose a hardening salt",
            (CareAction::Dose, Some(ProductKind::CorrosionInhibitor)) => {
                "dose a corrosion inhibitor"
            }
            (CareAction::Dose, _) => "dose",
            (CareAction::Recycle, _) => "recycle",
            (CareAction::DipSlide, _) => "dip a slide",
            (CareAction::CleanOut, _) => "clean out",
            (CareAction::Dispose, _) => "dispose",
            (CareAction::StopAndAsk, _) => "stop and ask",
        }
    }
}

/// Where a boundary is nobody's but the trade's.
const PRACTICE: &str = "common practice, no source";
/// Where a boundary is the fluid's own.
pub(super) const SHEET: &str = "the fluid's sheet";
const HSE_DAILY: &str = "UK HSE: appearance daily";
const DGUV_YEARLY: &str = "DGUV Regel 109-003, Annex 5";

macro_rules! rows {
    ($($name:ident: $observation:ident, $boundary:literal, $verdict:ident, $care:expr, $source:expr;)*) => {
        $(
            pub(super) const $name: &CareRow = &CareRow {
                observation: Observation::$observation,
                boundary: $boundary,
                verdict: Verdict::$verdict,
                care: $care,
                source: $source,
            };
        )*
        /// Every row, an observation's from the mildest to the worst.
        #[cfg(test)]
        pub(super) const ROWS: &[&CareRow] = &[$($name),*];
    };
}

use CareAction::{
    CarryOn, Circulate, CleanOut, DipSlide, Dispose, Recycle, Skim, StopAndAsk, TopUp,
};
use ProductKind::{Biocide, CorrosionInhibitor, Defoamer, Fungicide, HardeningSalt, PhAdjuster};

rows! {
    SKIN: Skin, "complaints", Act, Care::of(StopAndAsk, 0.0), PRACTICE;
    MUSTY: Smell, "musty or sour", Watch, Care::of(Circulate, 1.0), "UK HSE: odour daily";
    ROTTEN_EGGS: Smell, "rotten eggs", Act, Care::of(StopAndAsk, 0.0), PRACTICE;
    OUT_OF_BAND: Strength, "out of its band", Watch, Care::of(TopUp, 1.0), "the caller's band";
    FAR_OUT_OF_BAND: Strength, "out of its band by more than a quarter", Act, Care::of(TopUp, 0.0), PRACTICE;
    PH_OFF: Ph, "outside 8.5 to 9.5, or fallen by more than 0.3", Watch, Care::of(Circulate, 7.0), "DGUV Regel 109-003 (range); common practice (0.3)";
    PH_FALLEN_WITH_SLIDE: Ph, "fallen by more than 0.5, or below 8.0, with a dip slide of this week", Act, Care::dose(PhAdjuster, 1.0), "DGUV Regel 109-003 (0.5); common practice (8.0)";
    PH_FALLEN: Ph, "fallen by more than 0.5, or below 8.0, without one", Act, Care::of(DipSlide, 0.0), "DGUV Regel 109-003 (0.5); common practice (8.0)";
    SALTY: Conductivity, "above twice the fresh mix, or above 80 % of the fluid's limit", Watch, Care::of(TopUp, 7.0), PRACTICE;
    TOO_SALTY: Conductivity, "above the fluid's limit, or above twice what cycles explain", Act, Care::of(CleanOut, 7.0), "the fluid's sheet; balance of salts";
    GROWN: Bacteria, "from 10,000 CFU/mL", Watch, Care::of(Circulate, 7.0), "UK HSE";
    OVERGROWN: Bacteria, "from 1,000,000 CFU/mL", Act, Care::of(CleanOut, 1.0), "UK HSE";
    SOME_FUNGI: Fungi, "slight growth", Watch, Care::of(Circulate, 7.0), PRACTICE;
    FUNGI: Fungi, "moderate or heavy growth", Act, Care::dose(Fungicide, 1.0), PRACTICE;
    SOME_NITRITE: Nitrite, "from 10 mg/L", Watch, Care::of(CarryOn, 7.0), "TRGS 611";
    NITRITE: Nitrite, "above 20 mg/L", Act, Care::of(Dispose, 7.0), "TRGS 611";
    NITRATE: NitrateOfWater, "above 50 mg/L", Watch, Care::of(TopUp, 30.0), "TRGS 611";
    CHLORIDE: Chloride, "above 80 % of the fluid's limit", Watch, Care::of(TopUp, 7.0), SHEET;
    TOO_MUCH_CHLORIDE: Chloride, "above the fluid's limit", Act, Care::of(CleanOut, 7.0), SHEET;
    HARD: Hardness, "above the fluid's limit", Watch, Care::of(TopUp, 7.0), SHEET;
    SOFT: Hardness, "below 100 mg/L", Watch, Care::dose(HardeningSalt, 7.0), PRACTICE;
    OILY: TrampOil, "above 1 %", Watch, Care::of(Skim, 7.0), PRACTICE;
    TOO_OILY: TrampOil, "from 3 %", Act, Care::of(Skim, 1.0), PRACTICE;
    WARM: Temperature, "above 30 °C", Watch, Care::of(Circulate, 7.0), "UKLA/HSE guide, at second hand";
    OLD: Age, "from 335 days", Watch, Care::of(CarryOn, 30.0), DGUV_YEARLY;
    TOO_OLD: Age, "from 365 days", Act, Care::of(CleanOut, 30.0), DGUV_YEARLY;
    STOOD: StandingStill, "from 3 days", Watch, Care::of(Circulate, 0.0), PRACTICE;
    OIL_ON_TOP: Look, "oil on top", Watch, Care::of(Skim, 7.0), HSE_DAILY;
    DARKER: Look, "darker or grey", Watch, Care::of(Recycle, 14.0), HSE_DAILY;
    SLIMY: Look, "slime", Act, Care::of(CleanOut, 7.0), HSE_DAILY;
    SPLIT: Look, "split into oil and water", Act, Care::of(Dispose, 1.0), HSE_DAILY;
    FOAMS: Foam, "some", Watch, Care::of(CarryOn, 7.0), PRACTICE;
    FOAMS_OVER: Foam, "over the edge", Act, Care::dose(Defoamer, 0.0), PRACTICE;
    RUSTS: Rust, "on parts or the machine", Act, Care::of(TopUp, 0.0), PRACTICE;
}

/// What holds together, whatever else does.
pub(super) const TOGETHER: &[Together] = &[
    Together {
        of: [(Observation::Ph, Verdict::Act), (Observation::Bacteria, Verdict::Watch)],
        care: Care::of(CleanOut, 7.0),
        means: "the pH has fallen and bacteria grow, so the acid is theirs, and no alkali mends that",
        source: "acid from microbes; common practice",
    },
    Together {
        of: [(Observation::Bacteria, Verdict::Watch), (Observation::Smell, Verdict::Watch)],
        care: Care::dose(Biocide, 1.0),
        means: "bacteria grow and it smells of them",
        source: PRACTICE,
    },
    Together {
        of: [(Observation::TrampOil, Verdict::Act), (Observation::Bacteria, Verdict::Watch)],
        care: Care::of(Recycle, 7.0),
        means: "bacteria live under the oil and on it, and skimming alone leaves what is mixed in",
        source: PRACTICE,
    },
    Together {
        of: [(Observation::Rust, Verdict::Act), (Observation::Ph, Verdict::Watch)],
        care: Care::dose(CorrosionInhibitor, 1.0),
        means: "something rusts and the pH is off",
        source: PRACTICE,
    },
];

/// What an observation is called.
pub(super) const fn called(observation: Observation) -> &'static str {
    match observation {
        Observation::Skin => "skin",
        Observation::Smell => "smell",
        Observation::Strength => "strength",
        Observation::Ph => "pH",
        Observation::Conductivity => "conductivity",
        Observation::Bacteria => "bacteria",
        Observation::Fungi => "fungi",
        Observation::Nitrite => "nitrite",
        Observation::NitrateOfWater => "nitrate of the water",
        Observation::Chloride => "chloride",
        Observation::Hardness => "hardness",
        Observation::TrampOil => "tramp oil",
        Observation::Temperature => "temperature",
        Observation::Age => "age",
        Observation::StandingStill => "standing still",
        Observation::Look => "look",
        Observation::Foam => "foam",
        Observation::Rust => "rust",
    }
}
