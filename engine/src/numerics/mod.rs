//! Solvers that prove their answers or say they cannot.

pub mod assignment;
pub(crate) mod balancing;
pub mod chains;
pub mod choosing;
pub mod cusum;
pub mod cut_off;
pub mod digits;
pub mod distribution;
pub mod first_order;
pub(crate) mod for_now;
pub mod least_squares;
pub mod line;
pub mod linear_program;
pub mod money;
pub mod monte_carlo;
pub(crate) mod order;
pub mod packing;
pub(crate) mod parallel;
pub mod phi;
pub mod positive_roots;
pub mod quadrature;
pub mod root;
pub(crate) mod small_square;
