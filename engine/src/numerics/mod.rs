//! Solvers that prove their answers or say they cannot.

pub mod least_squares;
pub mod linear_program;
pub mod packing;
pub mod quadrature;
pub mod root;
