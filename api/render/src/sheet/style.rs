//! How a job sheet looks: on paper by points and millimetres, on a screen by its width.

use sumpwright_engine::quantity::UnitSystem;

/// The styles of a sheet, on the usual paper of a system of units.
pub(super) fn of(units: UnitSystem) -> String {
    let paper = match units {
        UnitSystem::Metric => "@page { size: A4; margin: 7mm }",
        UnitSystem::Us => "@page { size: letter; margin: 0.28in }",
    };
    format!("{paper}\n{STYLE}")
}

const STYLE: &str = include_str!("sheet.css");
