//! The job sheet: what an answer says to do, as a page that a person carries.
//!
//! The caller's reference heads it and the statement stands below, large; then the findings, the
//! steps with a box to tick each, a chart where there is room for one, what holds for many steps,
//! the care to take, and at the foot the lines to sign on. It is drawn for paper: black on white, in letters of 10 points and more.
//! On a phone the same page is one column, and its boxes can be tapped.
//!
//! # Decisions
//!
//! - **A job sheet is data.** A calculation that has one (`SHEET`) gives parts and steps
//!   (`engine/src/job_sheet.rs`); this file draws them all in the caller's units, and knows no
//!   calculation.
//! - **One sheet of paper.** Letters shrink with the number of steps, though never below 10
//!   points. A round of sixteen machines fills a page; how it is done and the words of care are
//!   then on the back, and the top of the page says so.

mod picture;
mod records;
mod steps;
mod style;

use crate::shell::shell;
use maud::{Markup, html};
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_engine::text::{Finding, Severity};
use sumpwright_openapi::sheet::SheetToDraw;

/// How close the steps stand on paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Spacing {
    /// Few steps and few words, in large letters.
    Wide,
    /// Few steps, in smaller letters.
    Medium,
    /// Two columns.
    Close,
    /// Two columns, the steps without any space between them.
    Dense,
}

/// So many characters fit on a sheet in large letters.
const WORDS: usize = 1300;
/// More steps than this stand in two columns.
const ONE_COLUMN: usize = 9;
/// More steps than this stand without any space between them.
const CLOSE: usize = 26;

impl Spacing {
    fn of(to_draw: &SheetToDraw) -> Self {
        let parts = &to_draw.sheet.parts;
        let steps: usize = parts.iter().map(|part| part.tasks.len()).sum();
        let texts = to_draw.findings.iter().map(|finding| &finding.text);
        let texts = texts.chain(to_draw.cautions.iter().map(|caution| &caution.text));
        let texts = texts.chain(&to_draw.sheet.notes).chain([&to_draw.statement]);
        let texts =
            texts.chain(parts.iter().flat_map(|part| {
                part.heading.iter().chain(part.tasks.iter().map(|task| &task.text))
            }));
        if steps > CLOSE {
            return Self::Dense;
        }
        if steps > ONE_COLUMN {
            return Self::Close;
        }
        let words: usize = texts.map(|text| text.show(to_draw.units).len()).sum();
        if words <= WORDS { Self::Wide } else { Self::Medium }
    }

    const fn class(self) -> &'static str {
        match self {
            Self::Wide => "wide",
            Self::Medium => "medium",
            Self::Close => "close",
            Self::Dense => "dense",
        }
    }
}

/// The job sheet of an answer as a page.
#[must_use]
pub fn page(to_draw: &SheetToDraw) -> String {
    let spacing = Spacing::of(to_draw);
    let kind = format!("Job sheet: {}", to_draw.calculation);
    let title = match &to_draw.reference {
        Some(reference) => format!("{kind}, {reference}"),
        None => kind.clone(),
    };
    let body = html! {
        div class={ "sheet " (spacing.class()) } {
            header {
                @if spacing == Spacing::Dense { p.over { "How it is done, and care: at the end" } }
                h1 {
                    span { (kind) }
                    @if let Some(reference) = &to_draw.reference { " · " (reference) }
                }
                p.statement { (steps::statement(&to_draw.statement, to_draw.units)) }
            }
            @for finding in said_below(to_draw) { (found(finding, to_draw.units)) }
            (steps::parts(&to_draw.sheet, to_draw.units, spacing))
            (picture::picture(to_draw, spacing))
            div.rest {
                (notes(to_draw))
                (care(to_draw))
            }
            (records::lines(to_draw.sheet.records))
        }
    };
    shell(&title, &style::of(to_draw.units), &body)
}

/// The findings without what the statement opens with.
fn said_below(to_draw: &SheetToDraw) -> impl Iterator<Item = &Finding> {
    to_draw.findings.iter().filter(|finding| !finding.is_doubt())
}

/// What the reader must know first.
fn found(finding: &Finding, units: UnitSystem) -> Markup {
    let severity = match finding.severity {
        Severity::Act => "Act first:",
        Severity::Watch => "Watch:",
        Severity::Note => "Note:",
    };
    html! {
        p.finding { strong { (severity) } " " (finding.text.show(units)) }
    }
}

/// What holds for many of the steps.
fn notes(to_draw: &SheetToDraw) -> Markup {
    html! {
        @if !to_draw.sheet.notes.is_empty() {
            section.notes {
                h2 { "How" }
                ul { @for note in &to_draw.sheet.notes { li { (note.show(to_draw.units)) } } }
            }
        }
    }
}

fn care(to_draw: &SheetToDraw) -> Markup {
    html! {
        section.care {
            h2 { "Take care" }
            ul {
                @for caution in &to_draw.cautions { li { (caution.text.show(to_draw.units)) } }
                li {
                    "The fluid's safety data sheet, local codes and licensed practice come before \
                     this sheet."
                }
            }
        }
    }
}

#[cfg(test)]
mod tests;
