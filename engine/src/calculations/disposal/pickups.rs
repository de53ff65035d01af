//! Pickup days: as few as can be, and neither limit passed.
//!
//! With a_d the mass that arises on day d (kg), M the most that may be on site
//! (kg), D the most days that any of it may stay, its own day counted, and each
//! pickup taking all there is at the end of its day:
//!
//! 1. on site at the end of a day, before its pickup: Σ a since the last one ≤ M
//! 2. what arose on day i leaves by the end of day i + D − 1
//!
//! Each pickup is put off to the last day on which it keeps both. No schedule has
//! fewer: by exchange, the first pickup of any other can be moved to ours, which
//! leaves no more on site on any later day. A day whose own waste is more than M
//! has no schedule.

/// A computed mass may pass a limit by this share of it before it counts:
/// rounding, far below what a scale can tell.
const ROUNDING: f64 = 1e-9;

/// The days of the pickups, counted from 1; or the first day whose waste alone is
/// more than may be on site.
pub(super) fn schedule(daily: &[f64], most: f64, days: usize) -> Result<Vec<usize>, usize> {
    let most = most * (1.0 + ROUNDING);
    let mut pickups = Vec::new();
    let (mut on_site, mut oldest) = (0.0, None);
    for (arising, day) in daily.iter().zip(1..) {
        if *arising > most {
            return Err(day);
        }
        let overdue = oldest.is_some_and(|oldest| day - oldest + 1 > days);
        if overdue || on_site + arising > most {
            pickups.push(day - 1);
            (on_site, oldest) = (0.0, None);
        }
        on_site += arising;
        if *arising > 0.0 {
            oldest = oldest.or(Some(day));
        }
    }
    Ok(pickups)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Whether a set of pickups, day i picked where bit i − 1 is set, keeps both limits.
    fn keeps(set: u32, daily: &[f64], most: f64, days: usize) -> bool {
        let (mut there, mut on_site) = (Vec::new(), 0.0);
        for (i, arising) in daily.iter().enumerate() {
            if *arising > 0.0 {
                there.push(i);
            }
            on_site += arising;
            if on_site > most || there.iter().any(|own| i - own + 1 > days) {
                return false;
            }
            if set >> i & 1 == 1 {
                there.clear();
                on_site = 0.0;
            }
        }
        true
    }

    proptest! {
        #[test]
        fn no_schedule_of_all_has_fewer_pickups(
            daily in proptest::collection::vec(0..6_u32, 1..11),
            most in 3..14_u32,
            days in 1..12_usize,
        ) {
            let daily: Vec<f64> = daily.into_iter().map(f64::from).collect();
            let most = f64::from(most);
            let fewest = (0..1_u32 << daily.len())
                .filter(|set| keeps(*set, &daily, most, days))
                .map(u32::count_ones)
                .min();
            match schedule(&daily, most, days) {
                Ok(found) => {
                    let set = found.iter().fold(0, |set, day| set | 1_u32 << (day - 1));
                    prop_assert!(keeps(set, &daily, most, days));
                    prop_assert_eq!(Some(set.count_ones()), fewest);
                    prop_assert_eq!(found.len(), set.count_ones() as usize);
                }
                Err(day) => {
                    prop_assert!(daily[day - 1] > most);
                    prop_assert_eq!(fewest, None);
                }
            }
        }
    }
}
