//! Solvers that prove their answers or say they cannot.

pub mod distribution;
pub mod first_order;
pub mod least_squares;
pub mod line;
pub mod linear_program;
pub mod monte_carlo;
pub mod packing;
pub(crate) mod parallel;
