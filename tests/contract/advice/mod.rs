//! Advice that several calculations give: properties that do not mix, and bounds of the trade.

mod bounds;
mod names;
