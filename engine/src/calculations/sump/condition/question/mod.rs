//! The question: what was seen, smelled and measured of one sump, and the limits of its fluid.

mod observed;
mod words;

pub use observed::{
    ConductivityObserved, ContentObserved, FungiObserved, OilObserved, PhObserved, SlideObserved,
};
pub use words::{Foam, FungalGrowth, Look, Rust, Smell};

use crate::fluid::band::Band;
use crate::fluid::loss_rates::LossRates;
use crate::fluid::reading::Reading;
use crate::fluid::sheet::SheetLimits;
use crate::quantity::{Concentration, Content, Days, Temperature};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What was seen, smelled and measured of one sump. Everything is optional; what is missing to
/// decide is named in the answer.
///
/// Each observation is held against these boundaries, and against the fluid's own limits where they
/// are stricter. What is worst decides. A pH that falls is first of all a sign of bacteria, which
/// no alkali stops: without a dip slide of this week one is dipped before the pH is corrected.
///
/// | observation | boundary | verdict | leads to | source |
/// | --- | --- | --- | --- | --- |
/// | skin | complaints | act | stop and ask, today | common practice, no source |
/// | smell | rotten eggs | act | stop and ask, today | common practice, no source |
/// | smell | musty or sour | watch | circulate within 1 day | UK HSE: odour daily |
/// | strength | out of its band | watch | top up within 1 day | the caller's band |
/// | strength | out of its band by more than a quarter | act | top up today | common practice, no source |
/// | pH | outside 8.5 to 9.5, or fallen by more than 0.3 | watch | circulate within 7 days | DGUV Regel 109-003 (range); common practice (0.3) |
/// | pH | fallen by more than 0.5, or below 8.0, with a dip slide of this week | act | dose a pH adjuster within 1 day | DGUV Regel 109-003 (0.5); common practice (8.0) |
/// | pH | fallen by more than 0.5, or below 8.0, without one | act | dip a slide today | DGUV Regel 109-003 (0.5); common practice (8.0) |
/// | conductivity | above twice the fresh mix, or above 80 % of the fluid's limit | watch | top up within 7 days | common practice, no source |
/// | conductivity | above the fluid's limit, or above twice what cycles explain | act | clean out within 7 days | the fluid's sheet; balance of salts |
/// | bacteria | from 10,000 CFU/mL | watch | circulate within 7 days | UK HSE |
/// | bacteria | from 1,000,000 CFU/mL | act | clean out within 1 day | UK HSE |
/// | fungi | slight growth | watch | circulate within 7 days | common practice, no source |
/// | fungi | moderate or heavy growth | act | dose a fungicide within 1 day | common practice, no source |
/// | nitrite | from 10 mg/L | watch | carry on | TRGS 611 |
/// | nitrite | above 20 mg/L | act | dispose within 7 days | TRGS 611 |
/// | nitrate of the water | above 50 mg/L | watch | top up within 30 days | TRGS 611 |
/// | chloride | above 80 % of the fluid's limit | watch | top up within 7 days | the fluid's sheet |
/// | chloride | above the fluid's limit | act | clean out within 7 days | the fluid's sheet |
/// | hardness | below 100 mg/L | watch | dose a hardening salt within 7 days | common practice, no source |
/// | hardness | above the fluid's limit | watch | top up within 7 days | the fluid's sheet |
/// | tramp oil | above 1 % | watch | skim within 7 days | common practice, no source |
/// | tramp oil | from 3 % | act | skim within 1 day | common practice, no source |
/// | temperature | above 30 °C | watch | circulate within 7 days | UKLA/HSE guide, at second hand |
/// | age | from 335 days | watch | carry on | DGUV Regel 109-003, Annex 5 |
/// | age | from 365 days | act | clean out within 30 days | DGUV Regel 109-003, Annex 5 |
/// | standing still | from 3 days | watch | circulate today | common practice, no source |
/// | look | oil on top | watch | skim within 7 days | UK HSE: appearance daily |
/// | look | darker or grey | watch | recycle within 14 days | UK HSE: appearance daily |
/// | look | slime | act | clean out within 7 days | UK HSE: appearance daily |
/// | look | split into oil and water | act | dispose within 1 day | UK HSE: appearance daily |
/// | foam | some | watch | carry on | common practice, no source |
/// | foam | over the edge | act | dose a defoamer today | common practice, no source |
/// | rust | on parts or the machine | act | top up today | common practice, no source |
/// | pH and bacteria | act, and at least watch | act | clean out within 7 days | acid from microbes; common practice |
/// | bacteria and smell | at least watch each | act | dose a biocide within 1 day | common practice, no source |
/// | tramp oil and bacteria | act, and at least watch | act | recycle within 7 days | common practice, no source |
/// | rust and pH | act, and at least watch | act | dose a corrosion inhibitor within 1 day | common practice, no source |
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Condition {
    /// # Reading
    ///
    /// Reading of the strength. Give this or the strength itself.
    pub reading: Option<Reading>,
    /// # Strength
    ///
    /// Strength of the fluid, where it is known without a reading.
    pub concentration: Option<Concentration>,
    /// # Band
    ///
    /// Band that the fluid is kept in; without it a strength is not judged.
    pub band: Option<Band>,
    /// # Days since the reading
    ///
    /// How long ago the strength was read. Default: today.
    pub strength_days_ago: Option<Days>,
    /// # The pH
    ///
    /// The pH.
    pub ph: Option<PhObserved>,
    /// # Conductivity
    ///
    /// The electrical conductivity.
    pub conductivity: Option<ConductivityObserved>,
    /// # Bacteria
    ///
    /// Bacteria on a dip slide.
    pub bacteria: Option<SlideObserved>,
    /// # Fungi
    ///
    /// Fungi and yeasts on a dip slide.
    pub fungi: Option<FungiObserved>,
    /// # Nitrite
    ///
    /// Nitrite in the fluid.
    pub nitrite: Option<ContentObserved>,
    /// # Nitrate of the water
    ///
    /// Nitrate in the water that the fluid is mixed with.
    pub nitrate_of_water: Option<Content>,
    /// # Chloride
    ///
    /// Chloride in the fluid; judged against the fluid's own limit.
    pub chloride: Option<ContentObserved>,
    /// # Hardness
    ///
    /// Hardness of the fluid, as calcium carbonate.
    pub hardness: Option<ContentObserved>,
    /// # Tramp oil
    ///
    /// Tramp oil in the fluid.
    pub tramp_oil: Option<OilObserved>,
    /// # Temperature
    ///
    /// Temperature of the fluid at work.
    pub temperature: Option<Temperature>,
    /// # Days since it was filled
    ///
    /// Days since the sump was last cleaned out and filled.
    #[schema(example = 140.0)]
    pub days_since_fill: Option<Days>,
    /// # Days standing still
    ///
    /// Days that the fluid has stood without circulating.
    pub days_standing: Option<Days>,
    /// # Smell
    ///
    /// How it smells today.
    pub smell: Option<Smell>,
    /// # Look
    ///
    /// How it looks today.
    pub look: Option<Look>,
    /// # Foam
    ///
    /// Whether it foams.
    pub foam: Option<Foam>,
    /// # Rust
    ///
    /// Whether something rusts.
    pub rust: Option<Rust>,
    /// # Skin or breathing complaints
    ///
    /// Whether somebody who works with it has complaints of the skin or in breathing.
    pub skin_complaints: Option<bool>,
    /// # Lost per day
    ///
    /// Losses of the sump per day, for what cycles of concentration explain of its conductivity.
    pub losses: Option<LossRates>,
    /// # The fluid's sheet
    ///
    /// Limits of the fluid's own sheet. They hold where they are stricter than the published ones.
    pub sheet: Option<SheetLimits>,
}
