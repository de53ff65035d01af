//! What is advised, and what is asked back, by several calculations: names that do not
//! mix, bounds of the trade.

mod bounds;
mod names;
