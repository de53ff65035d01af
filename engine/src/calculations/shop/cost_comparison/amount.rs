//! A number of any kind that a comparison's request holds, under the name of its kind.

use crate::quantity::{
    AirSpeed, Area, Capacity, Concentration, Count, DailyRate, DayHours, Days, Density, Frequency,
    Hours, Mass, Money, MoneyPerEnergy, MoneyPerHour, MoneyPerVolume, Number, Power, Quantity,
    Ratio, Row, Share, Temperature, Throughput, Volume, Weeks,
};
use crate::text::Refusal;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

macro_rules! kinds {
    ($($(#[$doc:meta])* $member:ident: $kind:ident for $($row:ident),+;)*) => {
        /// A number under the name of its kind, in the caller's units: exactly one
        /// member is there.
        #[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
        #[schema(as = AmountByKind)]
        pub struct Amount {
            $(
                $(#[$doc])*
                #[serde(skip_serializing_if = "Option::is_none", default)]
                pub $member: Option<$kind>,
            )*
        }

        impl Amount {
            /// `metric` as a number of the kind `row`.
            pub(super) fn of(row: &'static Row, metric: f64) -> Result<Self, Refusal> {
                let mut amount = Self::default();
                $(
                    if [$($row::ROW),+].contains(&row) {
                        amount.$member = Some($kind::of(metric)?);
                    }
                )*
                Ok(amount)
            }
        }
    };
}

kinds! {
    /// # Money
    ///
    /// An amount of money.
    money: Money for Money;
    /// # Price by volume
    ///
    /// What a unit of volume costs.
    money_per_volume: MoneyPerVolume for MoneyPerVolume;
    /// # Price by the hour
    ///
    /// What an hour costs.
    money_per_hour: MoneyPerHour for MoneyPerHour;
    /// # Price of energy
    ///
    /// What a unit of energy costs.
    money_per_energy: MoneyPerEnergy for MoneyPerEnergy;
    /// # Volume
    ///
    /// A volume.
    volume: Volume for Volume, Capacity;
    /// # Share or strength
    ///
    /// A share, or the strength of a fluid.
    share: Share for Share, Concentration;
    /// # Plain number
    ///
    /// A count, or how many times as much.
    number: Number for Count, Ratio;
    /// # Times per year
    ///
    /// How often in a year.
    times_per_year: Frequency for Frequency;
    /// # Hours
    ///
    /// A time in hours.
    hours: Hours for Hours, DayHours;
    /// # Days
    ///
    /// A time in days.
    days: Days for Days;
    /// # Weeks
    ///
    /// A time in weeks.
    weeks: Weeks for Weeks;
    /// # Electrical power
    ///
    /// The electrical power that something draws.
    power: Power for Power;
    /// # Volume by the hour
    ///
    /// A volume in an hour.
    throughput: Throughput for Throughput;
    /// # Volume by the day
    ///
    /// A volume in a day.
    daily_rate: DailyRate for DailyRate;
    /// # Mass
    ///
    /// A mass.
    mass: Mass for Mass;
    /// # Density
    ///
    /// Mass by volume.
    density: Density for Density;
    /// # Temperature
    ///
    /// How warm something is.
    temperature: Temperature for Temperature;
    /// # Surface
    ///
    /// A surface.
    area: Area for Area;
    /// # Speed of air
    ///
    /// How fast air moves.
    air_speed: AirSpeed for AirSpeed;
}
