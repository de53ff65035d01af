//! Sums of innovations that tell a slow fault before the band is left.

use crate::numerics::cusum::{self, ALARM};
use crate::quantity::{Days, Number, Quantity};
use crate::text::Refusal;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// One reading counts for no more than this: a jump is no slow fault, and has a finding of its own.
const MOST: f64 = 3.0;
/// Readings between two false alarms of one chart, for both of its sums (reference: k = 0.5, h = 5).
pub(super) const READINGS_BETWEEN: f64 = 465.0;

/// The sums of a log so far.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct KeptSums {
    /// # Volume
    ///
    /// Of the volumes.
    pub volume: KeptSum,
    /// # Strength
    ///
    /// Of the strengths.
    pub strength: KeptSum,
}

/// The two sums of a chart.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct KeptSum {
    /// # Upward
    ///
    /// Sum of what was read too high, in standard uncertainties.
    pub up: Number,
    /// # Upward since
    ///
    /// Day since which it is above 0.
    pub up_since: Days,
    /// # Downward
    ///
    /// Sum of what was read too low, in standard uncertainties.
    pub down: Number,
    /// # Downward since
    ///
    /// Day since which it is above 0.
    pub down_since: Days,
}

/// A slow fault.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct StateAlarm {
    /// # Readings
    ///
    /// The readings that show it.
    pub what: WatchedReading,
    /// # Side
    ///
    /// Whether they are too high or too low for what the log makes of them.
    pub way: AlarmWay,
    /// # Began on day
    ///
    /// Day on which it began.
    pub began: Days,
    /// # Raised on day
    ///
    /// Day on which it was told from chance.
    pub raised: Days,
    /// # Likely causes
    ///
    /// What it may come of, the likeliest first.
    pub causes: Vec<AlarmCause>,
}

/// Readings that are watched.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum WatchedReading {
    /// The volumes.
    Volume,
    /// The strengths.
    Strength,
}

/// On which side readings are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum AlarmWay {
    /// Too high.
    High,
    /// Too low.
    Low,
}

/// What a slow fault may come of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum AlarmCause {
    /// Fluid leaks out.
    FluidLeaksOut,
    /// More fluid goes out on chips and parts than before.
    MoreCarriedOff,
    /// More water evaporates than before.
    MoreEvaporates,
    /// Water runs in.
    WaterRunsIn,
    /// Somebody tops up and does not write it down.
    UnwrittenAdditions,
    /// What is added is not as strong as written.
    PremixOff,
    /// The instrument drifts, or tramp oil disturbs it.
    InstrumentDrifts,
    /// The level is read at another place or with the pumps on.
    LevelReadAnotherWay,
}

impl AlarmCause {
    /// What a person calls it.
    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::FluidLeaksOut => "fluid that leaks out",
            Self::MoreCarriedOff => "more fluid on chips and parts than before",
            Self::MoreEvaporates => "more water in the air than before",
            Self::WaterRunsIn => "water that runs in",
            Self::UnwrittenAdditions => "additions that nobody writes down",
            Self::PremixOff => "a premix that is not as strong as written",
            Self::InstrumentDrifts => "an instrument that drifts, or tramp oil in the sample",
            Self::LevelReadAnotherWay => "a level read another way, with the pumps on or off",
        }
    }
}

impl KeptSums {
    pub(super) fn nothing(day: f64) -> Result<Self, Refusal> {
        let (none, since) = (Number::of(0.0)?, Days::of(day)?);
        let sum = KeptSum { up: none, up_since: since, down: none, down_since: since };
        Ok(Self { volume: sum, strength: sum })
    }
}

impl KeptSum {
    /// Adds an innovation; the way of the alarm and the day it began where it becomes one.
    fn add(&mut self, z: f64, day: f64) -> Result<Option<(AlarmWay, Days)>, Refusal> {
        let mut raised = None;
        for (sum, since, z, way) in [
            (&mut self.up, &mut self.up_since, z, AlarmWay::High),
            (&mut self.down, &mut self.down_since, -z, AlarmWay::Low),
        ] {
            let next = cusum::next(sum.get(), z);
            if next == 0.0 {
                *since = Days::of(day)?;
            }
            if next > ALARM {
                raised = Some((way, *since));
            }
            // What was told begins anew.
            *sum = Number::of(if next > ALARM { 0.0 } else { next })?;
        }
        Ok(raised)
    }

    /// The side on which it leans.
    fn leans(&self) -> Option<AlarmWay> {
        const LEANS: f64 = ALARM / 2.0;
        if self.up.get() > LEANS {
            Some(AlarmWay::High)
        } else {
            (self.down.get() > LEANS).then_some(AlarmWay::Low)
        }
    }
}

impl KeptSums {
    /// Adds an innovation; the alarm where it becomes one.
    pub(super) fn add(
        &mut self,
        what: WatchedReading,
        z: f64,
        day: f64,
    ) -> Result<Option<StateAlarm>, Refusal> {
        let (own, other) = match what {
            WatchedReading::Volume => (&mut self.volume, self.strength),
            WatchedReading::Strength => (&mut self.strength, self.volume),
        };
        let Some((way, began)) = own.add(z.clamp(-MOST, MOST), day)? else { return Ok(None) };
        let causes = causes(what, way, other.leans());
        Ok(Some(StateAlarm { what, way, began, raised: Days::of(day)?, causes }))
    }
}

/// What it may come of, by what the other readings do. Common practice, no source.
fn causes(what: WatchedReading, way: AlarmWay, other: Option<AlarmWay>) -> Vec<AlarmCause> {
    use AlarmCause::{
        FluidLeaksOut, InstrumentDrifts, LevelReadAnotherWay, MoreCarriedOff, MoreEvaporates,
        PremixOff, UnwrittenAdditions, WaterRunsIn,
    };
    match (what, way, other) {
        (WatchedReading::Volume, AlarmWay::Low, Some(AlarmWay::High))
        | (WatchedReading::Strength, AlarmWay::High, Some(AlarmWay::Low)) => {
            vec![MoreEvaporates, LevelReadAnotherWay]
        }
        (WatchedReading::Volume, AlarmWay::Low, _) => {
            vec![FluidLeaksOut, MoreCarriedOff, LevelReadAnotherWay]
        }
        (WatchedReading::Volume, AlarmWay::High, Some(AlarmWay::Low))
        | (WatchedReading::Strength, AlarmWay::Low, Some(AlarmWay::High)) => {
            vec![WaterRunsIn, UnwrittenAdditions]
        }
        (WatchedReading::Volume, AlarmWay::High, _) => {
            vec![UnwrittenAdditions, WaterRunsIn, LevelReadAnotherWay]
        }
        (WatchedReading::Strength, AlarmWay::High, _) => {
            vec![InstrumentDrifts, UnwrittenAdditions, PremixOff]
        }
        (WatchedReading::Strength, AlarmWay::Low, _) => {
            vec![InstrumentDrifts, PremixOff, MoreCarriedOff]
        }
    }
}
