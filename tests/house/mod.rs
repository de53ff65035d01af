//! The rules of the house that a compiler does not hold.

mod catalogue;
mod readme;
mod tidy;
