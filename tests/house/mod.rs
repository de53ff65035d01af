//! The rules of the project that a compiler does not enforce.

mod arrows;
mod calculations;
mod catalogue;
mod measurements;
mod readme;
mod tidy;
mod type_names;
mod words;
