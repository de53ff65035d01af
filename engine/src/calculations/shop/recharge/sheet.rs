//! The job sheet: the steps of a round in the order in which they are done.

use crate::quantity::{Brix, Concentration, Count, Hours, Mass, Minutes, Volume};
use crate::text::Sentence;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// One line of the job sheet.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SheetStep {
    /// What kind of step it is.
    pub action: SheetAction,
    /// The batch it is about, numbered from 1.
    pub batch: Option<Count>,
    /// The mix for rinsing that it is about, numbered from 1.
    pub rinse_mix: Option<Count>,
    /// The trip it belongs to, numbered from 1; none while batches are prepared, and
    /// none without vessels.
    pub trip: Option<Count>,
    /// The machine it is done at.
    #[schema(example = "lathe 2")]
    pub sump: Option<String>,
    /// The stock it is done with.
    #[schema(example = "tap water")]
    pub stock: Option<String>,
    /// The vessel it is done with.
    #[schema(example = "drum 1")]
    pub vessel: Option<String>,
    /// The product that is handled.
    #[schema(example = "product A")]
    pub product: Option<String>,
    /// How many times it is done, once for each mix of a batch that is made in several;
    /// once when absent.
    #[schema(example = 2)]
    pub times: Option<Count>,
    /// How much fluid is moved, each time.
    pub volume: Option<Volume>,
    /// The mass of chips that is moved.
    pub mass: Option<Mass>,
    /// How strong the fluid is, or has to be.
    pub concentration: Option<Concentration>,
    /// What the refractometer must read.
    #[schema(example = 4.6)]
    pub mark: Option<Brix>,
    /// How long cleaner circulates before the sump is emptied.
    #[schema(example = 8.0)]
    pub hours: Option<Hours>,
    /// How long it takes the crew; none for what is done before the round, and none
    /// without vessels or times.
    pub minutes: Option<Minutes>,
    /// What to do and how, in a sentence.
    #[schema(value_type = String)]
    pub text: Sentence,
}

/// Kinds of step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum SheetAction {
    /// Let system cleaner circulate in the old fluid.
    CirculateCleaner,
    /// Pour the weakest stock of a batch into its vessel.
    Pour,
    /// Pour water or weak fluid on top of it.
    PourOn,
    /// Stir concentrate into it.
    StirIn,
    /// Read the batch before it is used.
    CheckBatch,
    /// Wash hoses and vessels between two products.
    Wash,
    /// Fill a vessel with clean fluid.
    Load,
    /// Make a machine ready.
    SetUp,
    /// Take out dirty fluid with its chips.
    TakeOut,
    /// Scrape out chip beds and wipe walls.
    Scrape,
    /// Rinse corners that are not emptied otherwise.
    Rinse,
    /// Fill in clean fluid.
    Refill,
    /// Drive back.
    DriveBack,
    /// Empty the vessels for chips.
    EmptyChips,
    /// Empty a vessel of dirty fluid.
    EmptyDirty,
}

impl SheetAction {
    const fn text(self) -> &'static str {
        match self {
            Self::CirculateCleaner => {
                "Add system cleaner and let it circulate through every line, as its label says. \
                 Watch the level, and for foam."
            }
            Self::Pour => "Pour this into a clean mixing vessel.",
            Self::PourOn => "Pour this into what is in the vessel.",
            Self::StirIn => {
                "Stir this slowly into what is in the vessel: concentrate into water, never water \
                 into concentrate."
            }
            Self::CheckBatch => {
                "Read the batch before it is used: it must have this strength and this reading."
            }
            Self::Wash => {
                "Wash hoses and vessels for the next product. What they are washed with is waste."
            }
            Self::Load => "Fill this much of the batch into the vessel.",
            Self::SetUp => "Go to the machine, lock it out, open the sump and make ready.",
            Self::TakeOut => {
                "Take this much out, chips apart. Stop below the mark of what it goes into."
            }
            Self::Scrape => "Scrape out chip beds and sludge, and wipe walls and guards.",
            Self::Rinse => "Rinse corners, pipes and walls with this, then take it out.",
            Self::Refill => {
                "Fill this in. Last of all close the sump, take your lock off, circulate, and read it."
            }
            Self::DriveBack => "Drive back to where the vessels are filled and emptied.",
            Self::EmptyChips => {
                "Empty the chips into their bin: rated lifting gear, nobody below, hands clear."
            }
            Self::EmptyDirty => "Empty this to the recycler or the waste tank for what is in it.",
        }
    }

    /// A line of this kind that says nothing else yet.
    pub(super) const fn step(self) -> SheetStep {
        SheetStep {
            action: self,
            batch: None,
            rinse_mix: None,
            trip: None,
            sump: None,
            stock: None,
            vessel: None,
            product: None,
            times: None,
            volume: None,
            mass: None,
            concentration: None,
            mark: None,
            hours: None,
            minutes: None,
            text: Sentence::fixed(self.text()),
        }
    }
}
