//! What a shop works with: the fluid, what it carries, where it stands, and what
//! comes into it and leaves it.

pub mod balance;
pub mod band;
pub mod batch;
pub mod hardness;
pub mod loss_rates;
pub mod measuring;
mod mixture;
pub mod oil;
pub mod practice;
pub mod product_stock;
pub mod properties;
pub mod reading;
pub mod sheet;
pub mod stock;
pub mod sump;
pub mod supply;

pub use mixture::{Fluid, parts_of_water};
