//! Solvers that prove their answers or say they cannot.

pub mod bracket;
pub mod least_squares;
pub mod linear_program;
pub mod packing;
