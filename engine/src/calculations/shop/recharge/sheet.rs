//! The job sheet: the steps of a round in the order in which they are done.

use crate::quantity::{Brix, Concentration, Count, Hours, Mass, Measure, Minutes, Volume};
use crate::sentence;
use crate::text::Sentence;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// One line of the job sheet.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SheetStep {
    /// # Do
    ///
    /// Kind of step.
    pub action: SheetAction,
    /// # Batch
    ///
    /// Batch that it is about, numbered from 1.
    pub batch: Option<Count>,
    /// # Rinse mix
    ///
    /// Mix for rinsing that it is about, numbered from 1.
    pub rinse_mix: Option<Count>,
    /// # Trip
    ///
    /// Trip that it belongs to, numbered from 1; absent while batches are prepared, and
    /// without vessels.
    pub trip: Option<Count>,
    /// # Machine
    ///
    /// Machine that it is done at.
    #[schema(example = "lathe 2")]
    pub sump: Option<String>,
    /// # Stock
    ///
    /// Stock that it is done with.
    #[schema(example = "tap water")]
    pub stock: Option<String>,
    /// # Vessel
    ///
    /// Vessel that it is done with.
    #[schema(example = "drum 1")]
    pub vessel: Option<String>,
    /// # Product
    ///
    /// Product that is handled.
    #[schema(example = "product A")]
    pub product: Option<String>,
    /// # Times
    ///
    /// Number of times that it is done, once for each mix of a batch that is made in
    /// several; absent where it is done once.
    #[schema(example = 2)]
    pub times: Option<Count>,
    /// # Volume
    ///
    /// Volume of fluid that is moved, each time, exactly; the text has it as it is measured
    /// out.
    pub volume: Option<Volume>,
    /// # Chips
    ///
    /// Mass of chips that is moved.
    pub mass: Option<Mass>,
    /// # Strength
    ///
    /// Strength that the fluid has, or must have.
    pub concentration: Option<Concentration>,
    /// # Scale must read
    ///
    /// Reading that the refractometer must show.
    #[schema(example = 4.6)]
    pub mark: Option<Brix>,
    /// # Circulate for
    ///
    /// Time for which cleaner circulates before the sump is emptied.
    #[schema(example = 8.0)]
    pub hours: Option<Hours>,
    /// # Takes
    ///
    /// Time that it takes the crew; absent for what is done before the round, and without
    /// vessels or times.
    pub minutes: Option<Minutes>,
    /// # How
    ///
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
    /// What to do, for steps that do not measure anything out.
    fn how(self) -> Sentence {
        match self {
            Self::CirculateCleaner => sentence!(
                "Add system cleaner and let it circulate through every line, as its label says. \
                 Watch the level, and for foam."
            ),
            Self::Pour => sentence!("Pour this into a clean mixing vessel."),
            Self::PourOn => sentence!("Pour this into what is in the vessel."),
            Self::StirIn => sentence!(
                "Stir this slowly into what is in the vessel: concentrate into water, never water \
                 into concentrate."
            ),
            Self::CheckBatch => sentence!("Read the batch before it is used."),
            Self::Wash => sentence!(
                "Wash hoses and vessels for the next product. What they are washed with is waste."
            ),
            Self::Load => sentence!("Fill this much of the batch into the vessel."),
            Self::SetUp => {
                sentence!("Go to the machine, lock it out, open the sump and make ready.")
            }
            Self::TakeOut => sentence!(
                "Take this much out, chips apart. Stop below the mark of what it goes into."
            ),
            Self::Scrape => {
                sentence!("Scrape out chip beds and sludge, and wipe walls and guards.")
            }
            Self::Rinse => {
                sentence!("Rinse corners, pipes and walls with this, then take it out.")
            }
            Self::Refill => sentence!(
                "Fill this in. Last of all close the sump, take your lock off, circulate, and read \
                 it."
            ),
            Self::DriveBack => {
                sentence!("Drive back to where the vessels are filled and emptied.")
            }
            Self::EmptyChips => sentence!(
                "Empty the chips into their bin: rated lifting gear, nobody below, hands clear."
            ),
            Self::EmptyDirty => {
                sentence!("Empty this to the recycler or the waste tank for what is in it.")
            }
        }
    }

    /// The step of measuring out `volume` of the stock called `name` for a batch.
    pub(super) fn measured_out(self, volume: Measure, name: &str) -> SheetStep {
        let text = match self {
            Self::Pour => sentence!("Pour {} of {} into a clean vessel.", volume, name),
            Self::PourOn => sentence!("Add {} of {}.", volume, name),
            Self::StirIn => {
                sentence!("Stir in {} of {} slowly: concentrate into water.", volume, name)
            }
            _ => self.how(),
        };
        SheetStep { text, ..self.step() }
    }

    /// A line of this kind that says nothing else yet.
    pub(super) fn step(self) -> SheetStep {
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
            text: self.how(),
        }
    }
}
