//! The values of one number at which a difference that depends on it is zero.
//!
//! Most inputs enter a cost in a straight line; then there is one crossing or
//! none, wherever the number can be, and a division finds it. All others are
//! looked at in steps, and each change of sign is closed in on.

use crate::numerics::cut_off::look;
use crate::quantity::Row;

/// A difference and the size of what it is the difference of.
#[derive(Debug, Clone, Copy)]
pub(super) struct Apart {
    /// The one less the other.
    pub(super) by: f64,
    /// How large the two are.
    pub(super) size: f64,
}

impl Apart {
    /// The sign, none where the two are the same to within rounding.
    fn sign(self) -> Option<bool> {
        (self.by.abs() > SAME * self.size).then_some(self.by > 0.0)
    }
}

/// Two costs within this share of each other are the same.
const SAME: f64 = 1e-12;
/// A crossing is one when the two are within this share of each other there.
const MEETS: f64 = 1e-9;
/// Points within this share of a straight line are on it.
const STRAIGHT: f64 = 1e-11;
/// Into how many steps a range is cut.
const STEPS: u32 = 240;
/// How often costs are tried in a search as a rule: at each step, and to close in on
/// what lies between two.
pub(super) const TRIALS: usize = STEPS as usize + 60;
/// A search in steps goes up to this many times the given number.
const FAR: f64 = 1e4;
/// The largest whole number that is looked at, of those that jump.
const MOST_YEARS: u32 = 200;

/// What a search found.
#[derive(Debug, PartialEq)]
pub(super) struct SearchFound {
    pub(super) kind: FoundKind,
    pub(super) crossings: Vec<Cross>,
    /// From where to where a search in steps looked.
    pub(super) searched: Option<(f64, f64)>,
}

/// How it was found, and so how sure it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum FoundKind {
    Straight,
    InSteps,
    NoEffect,
    AlwaysEqual,
}

/// A place where the difference changes its sign.
#[derive(Debug, PartialEq)]
pub(super) struct Cross {
    /// The number there; none where the difference jumps.
    pub(super) at: Option<f64>,
    /// The whole numbers on either side, where only those make sense.
    pub(super) between: Option<(f64, f64)>,
    /// Whether the one costs more than the other above it.
    pub(super) dearer_above: bool,
}

/// Searches for the numbers of the kind `row` at which `apart` is zero, given
/// that it can be asked at `given`. `jumps` says that it is known to jump.
pub(super) fn search(
    row: &Row,
    given: f64,
    jumps: bool,
    apart: &mut impl FnMut(f64) -> Option<Apart>,
) -> SearchFound {
    if !jumps && let Some(found) = straight(row, given, apart) {
        return found;
    }
    let points = if row.whole { whole_points(given) } else { points(row, given) };
    in_steps(row, &points, apart)
}

/// The crossing of a straight line, if it is one.
fn straight(
    row: &Row,
    given: f64,
    apart: &mut impl FnMut(f64) -> Option<Apart>,
) -> Option<SearchFound> {
    let here = apart(given)?;
    let scale = if given == 0.0 { 1.0 } else { given };
    let tried = [0.0, 0.5, 0.93, 1.21, 2.0, 3.7, 17.0, 150.0].map(|factor| factor * scale);
    let rounded = tried.map(|x| if row.whole { x.round() } else { x });
    let inside = rounded.into_iter().filter(|x| *x != given && row.admits(*x));
    let seen: Vec<(f64, Apart)> = inside.filter_map(|x| Some((x, apart(x)?))).collect();
    let (far_x, far) =
        *seen.iter().max_by(|a, b| (a.0 - given).abs().total_cmp(&(b.0 - given).abs()))?;
    let slope = (far.by - here.by) / (far_x - given);
    let on_the_line = |x: f64, at: &Apart| {
        (here.by + slope * (x - given) - at.by).abs() <= STRAIGHT * at.size.max(here.size)
    };
    if seen.len() < 2 || !seen.iter().all(|(x, at)| on_the_line(*x, at)) {
        return None;
    }
    let found = |kind, crossings| Some(SearchFound { kind, crossings, searched: None });
    if seen.iter().all(|(_, at)| (at.by - here.by).abs() <= SAME * at.size.max(here.size)) {
        let same = here.sign().is_none();
        return found(if same { FoundKind::AlwaysEqual } else { FoundKind::NoEffect }, vec![]);
    }
    let x = given - here.by / slope;
    Some(match meeting(row, x, slope, apart) {
        Some(cross) => {
            SearchFound { kind: FoundKind::Straight, crossings: vec![cross], searched: None }
        }
        None => SearchFound { kind: FoundKind::Straight, crossings: vec![], searched: None },
    })
}

/// The crossing at `x` or a rounding beside it, if the number can be there.
fn meeting(
    row: &Row,
    x: f64,
    slope: f64,
    apart: &mut impl FnMut(f64) -> Option<Apart>,
) -> Option<Cross> {
    let dearer_above = slope > 0.0;
    if row.whole {
        let (below, above) = (x.floor(), x.ceil());
        let possible = row.admits(below) && row.admits(above);
        let between = Some((below, above));
        let both = possible && apart(below).is_some() && apart(above).is_some();
        return both.then_some(Cross { at: Some(x), between, dearer_above });
    }
    let there = if row.admits(x) { apart(x)? } else { return None };
    let closer = x - there.by / slope;
    let mut meets = |x: f64| {
        let there = if row.admits(x) { apart(x)? } else { return None };
        (there.by.abs() <= MEETS * there.size).then_some((x, there.by.abs()))
    };
    let best = [meets(x), meets(closer)].into_iter().flatten().min_by(|a, b| a.1.total_cmp(&b.1));
    best.map(|(x, _)| Cross { at: Some(x), between: None, dearer_above })
}

/// Whole numbers to look at, one after another.
fn whole_points(given: f64) -> Vec<f64> {
    let mut points: Vec<f64> = (0..=MOST_YEARS).map(f64::from).collect();
    if given > f64::from(MOST_YEARS) {
        points.push(given);
    }
    points
}

/// Numbers to look at: evenly over a kind that is a share, by equal factors
/// around the given number for all others.
fn points(row: &Row, given: f64) -> Vec<f64> {
    let steps = (0..=STEPS).map(|step| f64::from(step) / f64::from(STEPS));
    let share = row.least == 0.0 && row.most <= 100.0;
    let mut points: Vec<f64> = if share {
        steps.map(|step| row.most * step).collect()
    } else {
        let scale = if given == 0.0 { 1.0 } else { given };
        let powers = steps.map(|step| scale * FAR.powf(2.0 * step - 1.0));
        powers.chain([0.0]).collect()
    };
    points.push(given);
    points.retain(|x| row.admits(*x));
    points.sort_by(f64::total_cmp);
    points.dedup();
    points
}

fn in_steps(
    row: &Row,
    points: &[f64],
    apart: &mut impl FnMut(f64) -> Option<Apart>,
) -> SearchFound {
    let mut crossings = Vec::new();
    let mut last: Option<(f64, bool)> = None;
    let mut same: Option<f64> = None;
    let (mut seen, mut all_same) = (Vec::new(), true);
    for x in points.iter().copied() {
        let Some(there) = apart(x) else {
            (last, same) = (None, None);
            continue;
        };
        seen.push(x);
        let Some(sign) = there.sign() else {
            same.get_or_insert(x);
            continue;
        };
        all_same = false;
        if let Some((before, _)) = last.filter(|(_, before)| *before != sign) {
            let between = row.whole.then_some((same.unwrap_or(before), same.unwrap_or(x)));
            let at = same.or_else(|| if row.whole { None } else { close_in(before, x, apart) });
            crossings.push(Cross { at, between, dearer_above: sign });
        }
        (last, same) = (Some((x, sign)), None);
    }
    let kind = if all_same { FoundKind::AlwaysEqual } else { FoundKind::InSteps };
    let ends = seen.first().copied().zip(seen.last().copied());
    SearchFound { kind, crossings, searched: ends }
}

/// The number between `low` and `high` at which the sign changes; none where
/// the difference jumps there.
fn close_in(
    mut low: f64,
    mut high: f64,
    apart: &mut impl FnMut(f64) -> Option<Apart>,
) -> Option<f64> {
    let sign = apart(low)?.by > 0.0;
    loop {
        look();
        let middle = low.midpoint(high);
        if middle <= low || middle >= high {
            let there = apart(middle)?;
            return (there.by.abs() <= MEETS * there.size).then_some(middle);
        }
        let there = apart(middle)?;
        if there.by == 0.0 {
            return Some(middle);
        }
        if (there.by > 0.0) == sign { low = middle } else { high = middle }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Count, Money, Quantity, Share, Weeks};

    fn at(f: impl Fn(f64) -> f64) -> impl Fn(f64) -> Option<Apart> {
        move |x| Some(Apart { by: f(x), size: 100.0 })
    }

    #[test]
    fn a_straight_line_crosses_once_or_not_at_all() {
        let found = search(Money::ROW, 10.0, false, &mut at(|x| 3.0 * x - 1e7));
        assert_eq!(found.kind, FoundKind::Straight);
        assert!((found.crossings[0].at.unwrap() - 1e7 / 3.0).abs() < 1e-8);
        assert!(found.crossings[0].dearer_above);
        let never = search(Weeks::ROW, 10.0, false, &mut at(|x| 3.0 * x + 1.0));
        assert_eq!((never.kind, never.crossings.len()), (FoundKind::Straight, 0));
        let found = search(Count::ROW, 4.0, false, &mut at(|x| 100.0 - 7.0 * x));
        assert_eq!(found.crossings[0].between, Some((14.0, 15.0)));
    }

    #[test]
    fn all_crossings_of_a_curve_are_found_in_steps() {
        let found = search(Share::ROW, 50.0, false, &mut at(|x| (x - 12.3) * (x - 71.0)));
        assert_eq!(found.kind, FoundKind::InSteps);
        let numbers: Vec<f64> = found.crossings.iter().filter_map(|cross| cross.at).collect();
        assert!((numbers[0] - 12.3).abs() < 1e-9 && (numbers[1] - 71.0).abs() < 1e-9);
        assert_eq!(found.searched, Some((0.0, 100.0)));
        let media = search(Weeks::ROW, 6.0, false, &mut at(|weeks| 52.0 / weeks - 2.0));
        assert!((media.crossings[0].at.unwrap() - 26.0).abs() < 1e-9);
    }

    #[test]
    fn what_has_no_effect_says_so() {
        assert_eq!(search(Money::ROW, 1.0, false, &mut at(|_| 5.0)).kind, FoundKind::NoEffect);
        assert_eq!(search(Money::ROW, 1.0, false, &mut at(|_| 0.0)).kind, FoundKind::AlwaysEqual);
    }
}
