//! The question: the machines, when each test was last done, and what the last results were.

use crate::quantity::{BacterialCount, Content, Days, Minutes};
use crate::text::{DayText, Name};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The machines of a shop, when each test was last done, and what the last results were.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct TestPlan {
    /// # Today
    ///
    /// The day that the list is for.
    #[schema(example = "2026-11-30")]
    pub today: DayText,
    /// # Days ahead
    ///
    /// How many days after today to list what comes. Default: 7.
    pub days_ahead: Option<Days>,
    /// # Machines
    ///
    /// The machines and tanks, in the order in which they are walked past.
    pub machines: Vec<TestedMachine>,
    /// # The shop's own intervals
    ///
    /// Days between tests, where the shop tests more often than the published rules ask for.
    pub intervals: Option<TestIntervals>,
    /// # Minutes per test
    ///
    /// Minutes that each test takes.
    pub minutes: Option<TestMinutes>,
}

/// A machine or tank whose fluid is tested. A date that is left out means that the test was never
/// done, or that nobody wrote it down.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct TestedMachine {
    /// # Machine
    ///
    /// What it is called in the shop.
    #[schema(example = "lathe 2", value_type = String, min_length = 1, max_length = 128)]
    pub name: Name,
    /// # Works
    ///
    /// How it is used. Default: every day.
    pub works: Option<MachineUse>,
    /// # Looked at
    ///
    /// When it was last looked at and smelled.
    pub looked_at: Option<DayText>,
    /// # Strength read
    ///
    /// When its strength was last read.
    pub strength_on: Option<DayText>,
    /// # The pH measured
    ///
    /// When its pH was last measured.
    pub ph_on: Option<DayText>,
    /// # Nitrite measured
    ///
    /// When its nitrite was last measured.
    pub nitrite_on: Option<DayText>,
    /// # Nitrite results
    ///
    /// The last results for nitrite, the newest first.
    #[schema(max_items = 10)]
    pub nitrite: Option<Vec<Content>>,
    /// # Slide dipped
    ///
    /// When a slide was last dipped.
    pub slide_on: Option<DayText>,
    /// # Slide's count
    ///
    /// Colonies on that slide.
    pub slide_count: Option<BacterialCount>,
    /// # Cleaned out
    ///
    /// When it was last cleaned out and filled anew.
    pub cleaned_on: Option<DayText>,
}

/// How a machine is used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum MachineUse {
    /// On every working day.
    EveryDay,
    /// Now and then.
    NowAndThen,
    /// It stands, with fluid in it.
    Stands,
}

/// Days between tests.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct TestIntervals {
    /// # Days between looks
    ///
    /// Days from one look to the next. Default: 1.
    pub look_days: Option<Days>,
    /// # Days between readings
    ///
    /// Days from one reading to the next. Default: 7.
    #[schema(example = 2.0)]
    pub strength_days: Option<Days>,
    /// # Days between tests of pH
    ///
    /// Days from one measurement to the next. Default: 7.
    pub ph_days: Option<Days>,
    /// # Days between tests of nitrite
    ///
    /// Days from one measurement to the next. Default: 7, or 28 after three results below 10 mg/L.
    pub nitrite_days: Option<Days>,
    /// # Days between slides
    ///
    /// Days from one slide to the next. Default: 7.
    pub slide_days: Option<Days>,
    /// # Days between clean-outs
    ///
    /// Days from one clean-out to the next. Default: 365.
    #[schema(example = 180.0)]
    pub clean_out_days: Option<Days>,
}

/// Minutes that tests take.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct TestMinutes {
    /// # To look and smell
    ///
    /// Minutes to look at it and smell it. Default: 1.
    pub look: Option<Minutes>,
    /// # To read the strength
    ///
    /// Minutes to read its strength. Default: 2.
    pub strength: Option<Minutes>,
    /// # To measure the pH
    ///
    /// Minutes to measure its pH. Default: 2.
    pub ph: Option<Minutes>,
    /// # To measure nitrite
    ///
    /// Minutes to measure nitrite. Default: 2.
    pub nitrite: Option<Minutes>,
    /// # For a slide
    ///
    /// Minutes to dip a slide, and later to read it. Default: 3.
    pub slide: Option<Minutes>,
}
