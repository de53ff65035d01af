//! Pickup days: as few as can be, and no limit passed.
//!
//! With a_d the mass that arises on day d (kg), M_d the most that may be on site while
//! waste of day d is there and on day d itself (kg), D_d the most days that waste of
//! day d may stay, its own day counted, and each pickup taking all there is at the end
//! of its day:
//!
//! 1. on site at the end of day d, before its pickup: Σ a since the last one ≤ M_d, and
//!    ≤ M_i for each day i whose waste is still there
//! 2. what arose on day i leaves by the end of day i + D_i − 1
//! 3. a day whose own waste is more than M_d has no schedule; what comes nearest has
//!    nothing else on site with it and a pickup at its end
//!
//! Each pickup is put off to the last day on which it keeps all of them. No schedule
//! has fewer: what may lie between two pickups may as well lie between two that stand
//! closer, for less is then on site and less of it is old; so, by exchange, the first
//! pickup of any other schedule can be moved to ours, which breaks no limit later.

/// A computed mass may pass a limit by this share of it before it counts:
/// rounding, far below what a scale can tell.
const ROUNDING: f64 = 1e-9;

/// What arises on a day, and what it has to keep.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::calculations::shop) struct Day {
    /// What arises, kg.
    pub arising: f64,
    /// The most that may be on site on it and while its waste is there, kg.
    pub most: f64,
    /// How many days its waste may stay, its own counted.
    pub stay: usize,
}

/// When to pick up.
#[derive(Debug, Clone, Default, PartialEq)]
pub(in crate::calculations::shop) struct Schedule {
    /// The days of the pickups, counted from 1.
    pub pickups: Vec<usize>,
    /// Days whose waste alone is more than may be on site.
    pub above: Vec<usize>,
}

/// What stands on site since the last pickup.
#[derive(Debug, Clone, Copy)]
struct OnSite {
    mass: f64,
    most: f64,
    gone_by: usize,
}

const EMPTY: OnSite = OnSite { mass: 0.0, most: f64::INFINITY, gone_by: usize::MAX };

pub(in crate::calculations::shop) fn schedule(days: &[Day]) -> Schedule {
    let mut schedule = Schedule::default();
    let mut there = EMPTY;
    for (day, number) in days.iter().zip(1..) {
        let Day { arising, most, stay } = *day;
        let too_much = there.mass + arising > most.min(there.most) * (1.0 + ROUNDING);
        if there.mass > 0.0 && (number > there.gone_by || too_much) {
            schedule.pickups.push(number - 1);
            there = EMPTY;
        }
        if arising > 0.0 {
            there.mass += arising;
            there.most = there.most.min(most);
            there.gone_by = there.gone_by.min((number - 1).saturating_add(stay));
        }
        if arising > most * (1.0 + ROUNDING) {
            schedule.above.push(number);
            schedule.pickups.push(number);
            there = EMPTY;
        }
    }
    schedule
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Whether a set of pickups, day i picked where bit i − 1 is set, keeps all limits.
    /// Of a day whose own waste is too much it asks that nothing else is there and that
    /// it is picked up at its end.
    fn keeps(set: u32, days: &[Day]) -> bool {
        let mut there: Vec<(usize, Day)> = Vec::new();
        for (i, day) in days.iter().enumerate() {
            if day.arising > 0.0 {
                there.push((i, *day));
            }
            let on_site: f64 = there.iter().map(|(_, own)| own.arising).sum();
            let picked = set >> i & 1 == 1;
            if day.arising > day.most {
                if there.len() > 1 || !picked {
                    return false;
                }
            } else if on_site > day.most
                || there.iter().any(|(own, held)| on_site > held.most || i - own + 1 > held.stay)
            {
                return false;
            }
            if picked {
                there.clear();
            }
        }
        true
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..Default::default() })]

        /// Months of two to four days, each with its own limits.
        #[test]
        fn no_schedule_of_all_has_fewer_pickups(
            arising in proptest::collection::vec(0..6_u32, 1..12),
            limits in proptest::collection::vec((3..14_u32, 1..9_usize), 6),
            month in 2..5_usize,
        ) {
            let days: Vec<Day> = arising.iter().enumerate().map(|(i, arising)| {
                let (most, stay) = limits[i / month];
                Day { arising: f64::from(*arising), most: f64::from(most), stay }
            }).collect();
            let found = schedule(&days);
            let set = found.pickups.iter().fold(0, |set, day| set | 1_u32 << (day - 1));
            prop_assert!(keeps(set, &days), "{:?} {:?}", found, days);
            let fewest = (0..1_u32 << days.len()).filter(|set| keeps(*set, &days)).map(u32::count_ones).min();
            prop_assert_eq!(Some(set.count_ones()), fewest);
            prop_assert_eq!(found.pickups.len(), set.count_ones() as usize);
            let above: Vec<usize> = (1..=days.len())
                .filter(|day| days[day - 1].arising > days[day - 1].most)
                .collect();
            prop_assert_eq!(found.above, above);
        }
    }

    /// 50 kg a day, then a month of 200 kg a day that may stay 9 days only.
    #[test]
    fn waste_leaves_by_the_limit_of_the_day_it_arose_on() {
        let day = |arising, stay| Day { arising, most: f64::INFINITY, stay };
        let days =
            [vec![day(50.0, 18); 10], vec![day(200.0, 9); 10], vec![day(50.0, 18); 10]].concat();
        // The waste of day 1 could stay to day 18, that of day 11 to day 19.
        assert_eq!(schedule(&days).pickups, [18, 27]);
    }
}
