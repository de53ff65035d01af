//! The longest list and map of every calculation.
