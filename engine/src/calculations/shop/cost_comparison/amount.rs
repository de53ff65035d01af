//! A number of any kind that a comparison's request holds, under the name of its kind.

use crate::quantity::{
    AnnualRate, Capacity, Concentration, Count, DailyRate, Days, Frequency, Hours, Money,
    MoneyPerEnergy, MoneyPerHour, MoneyPerVolume, Number, Power, Quantity, Ratio, Row, Share,
    Throughput, Volume, Weeks,
};
use crate::text::Refusal;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

macro_rules! kinds {
    ($($(#[$doc:meta])* $member:ident: $kind:ident for $($row:ident),+;)*) => {
        /// A number under the name of its kind, in the caller's units: exactly one
        /// member is there.
        #[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
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
    /// An amount of money.
    money: Money for Money;
    /// What a unit of volume costs.
    money_per_volume: MoneyPerVolume for MoneyPerVolume;
    /// What an hour costs.
    money_per_hour: MoneyPerHour for MoneyPerHour;
    /// What a unit of energy costs.
    money_per_energy: MoneyPerEnergy for MoneyPerEnergy;
    /// A volume.
    volume: Volume for Volume, Capacity;
    /// A share or a strength.
    share: Share for Share, Concentration;
    /// A rate on money.
    rate: AnnualRate for AnnualRate;
    /// A number without a unit.
    number: Number for Count, Ratio;
    /// How often in a year.
    times_a_year: Frequency for Frequency;
    /// A time in hours.
    hours: Hours for Hours;
    /// A time in days.
    days: Days for Days;
    /// A time in weeks.
    weeks: Weeks for Weeks;
    /// Electrical power.
    power: Power for Power;
    /// Volume by the hour.
    throughput: Throughput for Throughput;
    /// Volume by the day.
    daily_rate: DailyRate for DailyRate;
}
