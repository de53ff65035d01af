//! The steps of a job sheet, with a box to tick for each time that one is done.

use super::Spacing;
use maud::{Markup, html};
use sumpwright_engine::job_sheet::{JobSheet, SheetPart, SheetTask};
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_engine::text::{Sentence, TextPiece};

/// A step that is done more often than this has one box, and says how often.
const BOXES: usize = 6;

/// The parts of a job sheet, or that it has none: the statement says why.
pub(super) fn parts(sheet: &JobSheet, units: UnitSystem, spacing: Spacing) -> Markup {
    html! {
        main {
            @for own in &sheet.parts { (part(own, units, spacing)) }
            @if sheet.parts.iter().all(|part| part.tasks.is_empty()) {
                p.nothing { "There are no steps: see above." }
            }
        }
    }
}

fn part(part: &SheetPart, units: UnitSystem, spacing: Spacing) -> Markup {
    // Steps at no place of their own are short, and may share a line.
    let flows = part.heading.is_some() && part.tasks.iter().all(|task| task.place.is_none());
    let class = if flows { "part flows" } else { "part" };
    html! {
        section class=(class) {
            @if let Some(heading) = &part.heading { h2 { (words(heading, units)) } }
            ul { @for task in &part.tasks { li { (step(task, units, spacing)) } } }
        }
    }
}

fn step(task: &SheetTask, units: UnitSystem, spacing: Spacing) -> Markup {
    let is_inline = matches!(spacing, Spacing::Close | Spacing::Dense);
    let words = html! {
        span.words {
            @if let Some(place) = &task.place { strong { (place) ":" } " " }
            (words(&task.text, units))
            @if task.times > BOXES { " (" b { (task.times) " times" } ")" }
            @if task.is_read && is_inline { " " (reading(spacing)) }
        }
        @if task.is_read && !is_inline { (reading(spacing)) }
    };
    match task.times {
        2..=BOXES => html! {
            div.step {
                span.boxes {
                    @for time in 1..=task.times {
                        input.box type="checkbox" autocomplete="off"
                            aria-label=(format!("{time} of {}", task.times));
                    }
                }
                (words)
            }
        },
        _ => html! {
            label.step {
                span.boxes { input.box type="checkbox" autocomplete="off"; }
                (words)
            }
        },
    }
}

/// A line to write a reading on. Where there are many, the notes say what it is for.
fn reading(spacing: Spacing) -> Markup {
    html! {
        @if spacing == Spacing::Dense {
            span.reading aria-label="reading" {}
        } @else {
            span.reading { "Reading" }
        }
    }
}

/// A sentence whose amounts stand out.
fn words(sentence: &Sentence, units: UnitSystem) -> Markup {
    // On a sheet there is no other gallon than that of its statement.
    written(sentence, units, |measure| measure.replace(" US gal", " gal"))
}

/// The statement, whose amounts do not break.
pub(super) fn statement(sentence: &Sentence, units: UnitSystem) -> Markup {
    written(sentence, units, |measure| measure)
}

fn written(sentence: &Sentence, units: UnitSystem, amount: impl Fn(String) -> String) -> Markup {
    html! {
        @for piece in sentence.pieces(units) {
            @match piece {
                TextPiece::Words(words) => { (words) }
                TextPiece::Measure(measure) => { b { (amount(measure)) } }
            }
        }
    }
}
