//! The first day of holding a sump, as streams.

use super::MakeUp;
use super::rates::{Followed, MakeUpRates};
use crate::dynamics::Amounts;
use crate::fluid::Fluid;
use crate::fluid::balance::{Balance, StreamDirection};
use crate::fluid::properties::{PropertyName, TRAMP_OIL};
use crate::text::Refusal;

impl MakeUp {
    /// What comes and goes in the first day, against what is there at its end by
    /// the closed form of each property.
    pub(super) fn balance_of_a_day(
        &self,
        followed: &[Followed],
        rates: &MakeUpRates,
    ) -> Result<Balance, Refusal> {
        let (m, concentrate) = (rates.volume(), rates.concentrate());
        let of = |mix: f64, concentrate: f64, content: &dyn Fn(&Followed) -> f64| {
            amounts(mix, concentrate, followed, content)
        };
        let held = rates.v * rates.c;
        let before = of(rates.w, held, &|property| {
            let (_, pace) = property.course(rates);
            pace.w_0 * property.s_0
        });
        let after = of(rates.w, held, &|property| {
            let (course, pace) = property.course(rates);
            course.amount(pace, pace.tau(1.0), pace.w_0)
        });
        let taken = |property: &Followed| {
            let (course, pace) = property.course(rates);
            course.taken(pace, pace.tau(1.0))
        };
        let (d, b, c) = (rates.d, rates.b, rates.c);
        let streams = [
            ("sump before", StreamDirection::In, before),
            (
                "water",
                StreamDirection::In,
                of(m - concentrate, 0.0, &|p| (m - concentrate) * p.s_w),
            ),
            (
                "concentrate",
                StreamDirection::In,
                of(concentrate, concentrate, &|p| concentrate * p.s_k),
            ),
            ("leaked oil", StreamDirection::In, of(0.0, 0.0, &|p| rates.leaks(p))),
            ("evaporated", StreamDirection::Out, of(rates.e, 0.0, &|_| 0.0)),
            ("carried off", StreamDirection::Out, of(d, rates.k * d * c, &|p| d * taken(p))),
            ("discharged", StreamDirection::Out, of(b, b * c, &|p| b * taken(p))),
            ("skimmed oil", StreamDirection::Out, of(0.0, 0.0, &|p| rates.skims(p) * taken(p))),
            ("sump after", StreamDirection::Stays, after),
        ];
        let names: Vec<PropertyName> = followed
            .iter()
            .map(|property| PropertyName::from(&property.name))
            .filter(|name| name != TRAMP_OIL)
            .collect();
        let oil = followed.iter().any(|property| property.name == TRAMP_OIL);
        let fluids: Vec<(&str, StreamDirection, Fluid)> = streams
            .into_iter()
            .filter(|(_, _, amounts)| amounts.volume() > 0.0)
            .map(|(name, way, amounts)| {
                (name, way, amounts.fluid(&names, oil, self.densities.unwrap_or_default()))
            })
            .collect();
        let rows: Vec<_> = fluids.iter().map(|(name, way, fluid)| (*name, *way, fluid)).collect();
        Balance::close(&rows)
    }
}

/// So many litres besides oil with so much concentrate, and of each property what `content`
/// says: mg, or a hundred times the litres of tramp oil.
fn amounts(
    mix: f64,
    concentrate: f64,
    followed: &[Followed],
    content: &dyn Fn(&Followed) -> f64,
) -> Amounts {
    let mut amounts = Amounts { mix, concentrate, ..Amounts::default() };
    for property in followed {
        if property.name == TRAMP_OIL {
            amounts.oil = content(property) / 100.0;
        } else {
            amounts.matter.push(content(property));
        }
    }
    amounts
}
