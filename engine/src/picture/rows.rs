//! Amounts beside each other, a row each.

use super::{ContentKind, Label};
use crate::quantity::Row;

/// Amounts beside each other, each made up of the same kinds of parts.
#[derive(Debug, Clone, PartialEq)]
pub struct BarRows {
    /// What is measured: "cost per year".
    pub label: Label,
    /// The kind of quantity.
    pub row: &'static Row,
    /// What the parts are, in the order in which they are drawn.
    pub kinds: Vec<Label>,
    /// What fluid each kind is, where they are fluids; else nothing.
    pub fluids: Vec<ContentKind>,
    /// The rows, from the top down.
    pub rows: Vec<BarRow>,
}

/// An amount and its parts.
#[derive(Debug, Clone, PartialEq)]
pub struct BarRow {
    /// What it is the amount of.
    pub name: Label,
    /// The parts, one for each kind; what is below nothing is taken off.
    pub parts: Vec<f64>,
}

/// What a result depends on: how far it moves with each input, the strongest first.
#[derive(Debug, Clone, PartialEq)]
pub struct WhatMatters {
    /// What the result is.
    pub label: Label,
    /// Its kind of quantity.
    pub row: &'static Row,
    /// The result as it is.
    pub value: f64,
    /// What it means when the result falls below nothing.
    pub below_nothing: Label,
    /// How far each input was varied, %.
    pub varied_by: f64,
    /// The inputs, the strongest first.
    pub inputs: Vec<Varied>,
    /// How many more inputs move it less than the last one that is drawn.
    pub more: usize,
}

/// How far a result moves with one input.
#[derive(Debug, Clone, PartialEq)]
pub struct Varied {
    /// The input, in words.
    pub name: Label,
    /// The result with the input made smaller; absent where it cannot be.
    pub smaller: Option<f64>,
    /// The result with the input made larger; absent where it cannot be.
    pub larger: Option<f64>,
}
