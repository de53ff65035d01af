//! Lists in the order of a figure, with one sort compiled for all of them.

use smallvec::{SmallVec, smallvec};

/// A list that is mostly of a few, such as the stocks of a shop, and then takes no memory.
type Few<T> = SmallVec<[T; 8]>;

/// Puts the items with the least `figure` first; equal ones stay as they were.
pub(crate) fn least_first<T>(items: &mut [T], figure: impl FnMut(&T) -> f64) {
    let figures: Few<f64> = items.iter().map(figure).collect();
    exchanges(&figures).for_each(|(here, there)| items.swap(here, there));
}

/// Puts the items with the greatest `figure` first; equal ones stay as they were.
pub(crate) fn greatest_first<T>(items: &mut [T], mut figure: impl FnMut(&T) -> f64) {
    least_first(items, |item| -figure(item));
}

/// The exchanges that put `figures` in order, one after the other.
fn exchanges(figures: &[f64]) -> impl Iterator<Item = (usize, usize)> + use<> {
    let mut order: Few<usize> = (0..figures.len()).collect();
    order.sort_by(|a, b| figures[*a].total_cmp(&figures[*b]));
    let mut places: Few<usize> = smallvec![0; order.len()];
    order.into_iter().enumerate().for_each(|(place, item)| places[item] = place);
    let mut here = 0;
    std::iter::from_fn(move || {
        while *places.get(here)? == here {
            here += 1;
        }
        let there = places[here];
        places.swap(here, there);
        Some((here, there))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_is_sorted_as_the_standard_library_sorts_it() {
        for length in 0..40_u32 {
            let figure = |i: u32| f64::from(i * i % 13) - 6.0;
            let plain: Vec<(u32, f64)> = (0..length).map(|i| (i, figure(i))).collect();
            let (mut ours, mut theirs) = (plain.clone(), plain.clone());
            least_first(&mut ours, |item| item.1);
            theirs.sort_by(|a, b| a.1.total_cmp(&b.1));
            assert_eq!(ours, theirs);
            let (mut ours, mut theirs) = (plain.clone(), plain);
            greatest_first(&mut ours, |item| item.1);
            theirs.sort_by(|a, b| b.1.total_cmp(&a.1));
            assert_eq!(ours, theirs);
        }
    }
}
