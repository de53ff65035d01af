//! The answer: what is due today, and what comes.

use crate::quantity::{Count, Minutes};
use crate::text::{CalendarDate, Name, Sentence};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use std::borrow::Cow;
use utoipa::ToSchema;

/// Which tests are due today, and which come next.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TestPlanAnswer {
    /// # Due today
    ///
    /// How many tests are due today, with those that are overdue.
    pub due_today: Count,
    /// # Overdue
    ///
    /// How many of these should have been done before today.
    pub overdue: Count,
    /// # Minutes today
    ///
    /// Minutes that the tests of today take; a clean-out's are not counted.
    pub minutes: Minutes,
    /// # Tests due
    ///
    /// Each test that is due, the longest overdue first.
    pub due: Vec<DueTest>,
    /// # Coming
    ///
    /// Each test that comes in the days ahead, by its day.
    pub coming: Vec<ComingTest>,
}

/// A test of the fluid.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, ToSchema,
)]
#[serde(rename_all = "snake_case")]
#[schema(as = TestOfFluid)]
pub enum FluidTest {
    /// Look at it and smell it.
    Look,
    /// Read its strength.
    Strength,
    /// Measure its pH.
    Ph,
    /// Measure its nitrite.
    Nitrite,
    /// Dip a slide.
    DipSlide,
    /// Clean it out and fill it anew.
    CleanOut,
}

/// A test that is due.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = TestDue)]
pub struct DueTest {
    /// # At
    ///
    /// The machine.
    #[schema(value_type = String)]
    pub machine: Name,
    /// # Test
    ///
    /// The test.
    pub test: FluidTest,
    /// # Due on
    ///
    /// The day on which it was due; absent where it was never done.
    pub due_on: Option<CalendarDate>,
    /// # Days overdue
    ///
    /// Days by which it is overdue; 0 where it is due today, absent where it was never done.
    pub overdue_days: Option<Count>,
    /// # Takes
    ///
    /// Minutes that it takes; absent for a clean-out.
    pub minutes: Option<Minutes>,
    /// # Rule
    ///
    /// The rule that asks for it.
    #[schema(value_type = String)]
    pub text: Sentence,
    /// # Source
    ///
    /// Where the rule comes from.
    #[schema(value_type = String)]
    pub source: Cow<'static, str>,
}

/// A test that comes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = TestComing)]
pub struct ComingTest {
    /// # At
    ///
    /// The machine.
    #[schema(value_type = String)]
    pub machine: Name,
    /// # Test
    ///
    /// The test.
    pub test: FluidTest,
    /// # Due on
    ///
    /// The day on which it is due.
    pub due_on: CalendarDate,
}
