//! The rules of the house that a compiler does not hold.

mod arrows;
mod calculations;
mod catalogue;
mod readme;
mod tidy;
mod type_names;
mod words;
