//! Solvers that prove their answers or say they cannot.

pub mod least_squares;
pub mod linear_program;
pub mod money;
pub mod packing;
pub mod positive_roots;
pub mod quadrature;
pub mod root;
