//! What can be had from stocks, and why a batch cannot.

use super::constraints::{limit_constraints, unproven};
use crate::fluid::practice::names_biocide;
use crate::fluid::properties::{Limits, TRAMP_OIL};
use crate::fluid::stock::Stock;
use crate::numerics::linear_program::{Constraint, LinearProgram, Sense, Solution};
use crate::numerics::order;
use crate::quantity::{Concentration, Content, Measure, Quantity, Volume};
use crate::sentence;
use crate::text::{Fault, Kind, Reachable, Refusal, Sentence, VolumeRange, concentration_range};

/// All there is on hand, L.
#[must_use]
pub fn on_hand(stocks: &[Stock]) -> f64 {
    stocks.iter().map(Stock::on_hand).sum()
}

/// The weakest and the strongest batch of `volume` litres that the stocks on
/// hand make, % by volume; none when there is not so much on hand.
#[must_use]
pub fn reach(stocks: &[Stock], volume: f64) -> Option<(f64, f64)> {
    let mut by_strength: Vec<&Stock> = stocks.iter().collect();
    order::least_first(&mut by_strength, |stock| stock.concentration.get());
    let low = fill(by_strength.iter().copied(), volume)?;
    let high = fill(by_strength.iter().rev().copied(), volume)?;
    Some((low, high))
}

/// The concentration of a batch filled from `stocks` in their order.
fn fill<'a>(stocks: impl Iterator<Item = &'a Stock>, volume: f64) -> Option<f64> {
    let (mut left, mut concentrate) = (volume, 0.0);
    for stock in stocks {
        let taken = stock.on_hand().min(left);
        concentrate += taken * stock.concentration.get();
        left -= taken;
        if left <= 0.0 {
            return Some(concentrate / volume);
        }
    }
    None
}

/// Says why there is no batch of `v_t` litres at `c_t`, what can be reached, and
/// what would have to change.
pub(super) fn refuse(stocks: &[Stock], v_t: f64, c_t: f64, limits: &Limits) -> Refusal {
    explain(stocks, v_t, c_t, limits).unwrap_or_else(|refusal| refusal)
}

fn explain(stocks: &[Stock], v_t: f64, c_t: f64, limits: &Limits) -> Result<Refusal, Refusal> {
    let Some((low, high)) = reach(stocks, v_t) else {
        return too_little_on_hand(stocks, v_t, c_t, limits);
    };
    if (low..=high).contains(&c_t) {
        return limits_in_the_way(stocks, c_t, v_t, limits);
    }
    let [low_end, high_end, wanted] = [low, high, c_t].map(Concentration::measure_of);
    let detail = if c_t > high {
        sentence!(
            "With this much to make, these stocks reach {} to {}; {} lies outside. Add a stronger \
             stock, or have more of the one that is.",
            low_end,
            high_end,
            wanted
        )
    } else {
        sentence!(
            "With this much to make, these stocks reach {} to {}; {} lies outside. Add a weaker \
             stock, or have more of the one that is.",
            low_end,
            high_end,
            wanted
        )
    };
    let reachable = Reachable {
        concentration: Some(concentration_range(low, high)?),
        volume: volume_range(stocks, v_t, c_t, limits)?,
    };
    Ok(Refusal::new(Kind::Unreachable, "/target/concentration", detail).reachable(reachable))
}

fn too_little_on_hand(
    stocks: &[Stock],
    v_t: f64,
    c_t: f64,
    limits: &Limits,
) -> Result<Refusal, Refusal> {
    let detail = sentence!(
        "All stocks on hand come to {}, less than the {} to make. Make less, or have more on hand.",
        Volume::measure_of(on_hand(stocks)),
        Volume::measure_of(v_t)
    );
    let volume = volume_range(stocks, v_t, c_t, limits)?;
    let reachable = Reachable { concentration: None, volume };
    Ok(Refusal::new(Kind::Unreachable, "/target/volume", detail).reachable(reachable))
}

/// The concentration can be had; the limits cannot be kept with it.
fn limits_in_the_way(
    stocks: &[Stock],
    c_t: f64,
    v_t: f64,
    limits: &Limits,
) -> Result<Refusal, Refusal> {
    let mut faults = Vec::new();
    for (pointer, constraint) in limit_constraints(stocks, limits) {
        let rising = constraint.sense == Sense::AtLeast;
        let weights = constraint.weights(stocks.len());
        let best = extreme(stocks, v_t, &weights, rising, batch_constraints(stocks, c_t))?;
        let missed = if rising { best < constraint.bound } else { best > constraint.bound };
        if missed {
            let name = pointer.split('/').nth(2).unwrap_or_default().to_owned();
            faults.push(Fault { detail: limit_missed(&name, best, &constraint, c_t), pointer });
        }
    }
    if faults.is_empty() {
        let detail = sentence!(
            "Each limit can be kept by itself, but not all of them in one batch. Relax one, or add \
             a stock that carries less."
        );
        faults.push(Fault { pointer: "/limits".to_owned(), detail });
    }
    let concentration = {
        let weights: Vec<f64> = stocks.iter().map(|s| s.concentration.get()).collect();
        let constraints = || {
            let whole = batch_constraints(stocks, c_t).into_iter().take(1);
            whole
                .chain(limit_constraints(stocks, limits).map(|(_, constraint)| constraint))
                .collect()
        };
        let low = extreme(stocks, v_t, &weights, false, constraints());
        let high = extreme(stocks, v_t, &weights, true, constraints());
        match (low, high) {
            (Ok(low), Ok(high)) => Some(concentration_range(low, high)?),
            _ => None,
        }
    };
    let volume = volume_range(stocks, v_t, c_t, limits)?;
    let reachable = Some(Reachable { concentration, volume });
    Ok(Refusal { kind: Kind::Unreachable, faults, reachable })
}

/// Says that a limit is out of reach; what is mixed without any concentrate are waters.
fn limit_missed(name: &str, best: f64, constraint: &Constraint, c_t: f64) -> Sentence {
    let kind = if name == TRAMP_OIL { Concentration::ROW } else { Content::ROW };
    let (best, limit) = (Measure::of(kind, best), Measure::of(kind, constraint.bound));
    match constraint.sense {
        Sense::AtLeast if names_biocide(name) => sentence!(
            "At this strength the most {} that these stocks can come to is {}, and the limit is \
             {}. A biocide is dosed by its label, up to the most that it allows and no further.",
            name,
            best,
            limit
        ),
        Sense::AtLeast if c_t == 0.0 => sentence!(
            "The most {} that these waters can be mixed to is {}, and the limit is {}. Lower the \
             limit, or add a water that carries more.",
            name,
            best,
            limit
        ),
        Sense::AtLeast => sentence!(
            "At this strength the most {} that these stocks can come to is {}, and the limit is \
             {}. Lower the limit, or add a stock that carries more.",
            name,
            best,
            limit
        ),
        _ if c_t == 0.0 => sentence!(
            "The least {} that these waters can be mixed to is {}, and the limit is {}. Raise the \
             limit, or add a water that carries less.",
            name,
            best,
            limit
        ),
        _ => sentence!(
            "At this strength the least {} that these stocks can come to is {}, and the limit is \
             {}. Raise the limit, or add a stock that carries less.",
            name,
            best,
            limit
        ),
    }
}

/// Shares add up to the batch, and to its concentration.
fn batch_constraints(stocks: &[Stock], c_t: f64) -> Vec<Constraint> {
    let concentrations = stocks.iter().map(|stock| stock.concentration.get());
    vec![
        Constraint::new(vec![1.0; stocks.len()], Sense::Equal, 1.0),
        Constraint::new(concentrations, Sense::Equal, c_t),
    ]
}

/// The least, or the most, that a weighted sum of the shares can come to.
fn extreme(
    stocks: &[Stock],
    v_t: f64,
    weights: &[f64],
    most: bool,
    constraints: Vec<Constraint>,
) -> Result<f64, Refusal> {
    let sign = if most { -1.0 } else { 1.0 };
    let program = LinearProgram {
        costs: weights.iter().map(|weight| sign * weight).collect(),
        most: stocks.iter().map(|stock| stock.on_hand() / v_t).collect(),
        constraints,
    };
    match program.solve() {
        Solution::Optimal(best) => {
            Ok(best.values.iter().zip(weights).map(|(x, weight)| x * weight).sum())
        }
        Solution::Infeasible | Solution::Unproven => Err(unproven()),
    }
}

/// The volumes up to `v_t` that can be had at `c_t` within the limits; none
/// when there is no batch at all.
fn volume_range(
    stocks: &[Stock],
    v_t: f64,
    c_t: f64,
    limits: &Limits,
) -> Result<Option<VolumeRange>, Refusal> {
    // In shares of v_t, with each constraint's bound moved into its weights, so that
    // the whole is free to be less than v_t.
    let moved = |constraint: Constraint| {
        let weights = constraint.weights(stocks.len()).into_iter();
        Constraint::new(weights.map(|weight| weight - constraint.bound), constraint.sense, 0.0)
    };
    let whole = Constraint::new(vec![1.0; stocks.len()], Sense::AtMost, 1.0);
    let concentration = batch_constraints(stocks, c_t).into_iter().skip(1);
    let limits = limit_constraints(stocks, limits).map(|(_, constraint)| constraint);
    let mut constraints: Vec<Constraint> = concentration.chain(limits).map(moved).collect();
    constraints.push(whole);
    let share = extreme(stocks, v_t, &vec![1.0; stocks.len()], true, constraints)?;
    /// A batch smaller than this share of the one asked for is none.
    const NOTHING: f64 = 1e-9;
    if share <= NOTHING {
        return Ok(None);
    }
    Ok(Some(VolumeRange { low: Volume::of(0.0)?, high: Volume::of(share * v_t)? }))
}
