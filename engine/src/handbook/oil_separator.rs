//! Published practice for gravity oil separators.
//!
//! API Publication 421, Design and Operation of Oil-Water Separators (1990).

/// The drop that a separator is designed for, m.
pub const DESIGN_DROP: f64 = 0.015e-2;
/// The fastest that water may flow along a separator, m/h (3 ft/min).
pub const FLOW_MOST: f64 = 54.864;
/// The fastest that water may flow along, against the rise of the design drop.
pub const FLOW_TO_RISE_MOST: f64 = 15.0;
/// How deep a separator is, m (3 to 8 ft).
pub const DEPTH: (f64, f64) = (0.9144, 2.4384);
/// How wide a separator is, m (6 to 20 ft).
pub const WIDTH: (f64, f64) = (1.8288, 6.096);
/// How deep a separator is against its width.
pub const DEPTH_TO_WIDTH: (f64, f64) = (0.3, 0.5);

/// The flow along the separator against the rise of the design drop, and how
/// many times as much surface turbulence and short-circuiting ask for.
const TURBULENCE: [(f64, f64); 5] =
    [(3.0, 1.28), (6.0, 1.37), (10.0, 1.52), (15.0, 1.64), (20.0, 1.74)];

/// The ratios of flow to rise that the table covers.
pub const FLOW_TO_RISE: (f64, f64) = (TURBULENCE[0].0, TURBULENCE[4].0);

/// The turbulence factor at a ratio of flow to rise: straight lines between
/// the table's entries, its first entry below its beginning (which asks for no
/// less than the table would), none beyond its end.
#[must_use]
pub fn turbulence_factor(flow_to_rise: f64) -> Option<f64> {
    if flow_to_rise <= TURBULENCE[0].0 {
        return Some(TURBULENCE[0].1);
    }
    let end = TURBULENCE.iter().position(|(ratio, _)| flow_to_rise <= *ratio)?;
    let [(x_0, y_0), (x_1, y_1)] = [TURBULENCE[end - 1], TURBULENCE[end]];
    Some(y_0 + (flow_to_rise - x_0) / (x_1 - x_0) * (y_1 - y_0))
}
