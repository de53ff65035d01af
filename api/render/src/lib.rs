//! Draws the pictures of an answer as SVG, for the page and for callers that ask for
//! `image/svg+xml`, its job sheet as a page to print ([`sheet`]), and what it dates as a calendar
//! ([`icalendar`]).
//!
//! One drawer serves every calculation: a picture is data (`sumpwright_engine::picture`), and
//! what it looks like stands here alone, a file for each kind. There are no files, fonts, threads
//! or clocks in here, so that it draws in a browser what it draws in the service.
//!
//! # Decisions
//!
//! - **SVG is written straight**, with a class on every element beside what it looks like on
//!   paper: a page gives the classes its own colours, and a file alone needs none.
//! - **Nothing is told by colour alone.** Lines differ by their dashes, areas by their shade and
//!   their hatching, marks by their shape, and each is named; so it prints in black and white.
//! - **Letters keep their size.** A drawing is laid out for the width it is asked for and never
//!   scaled: where it is narrow, names stand above what they name instead of beside it.
//! - **Text is measured by a table** ([`letters`]), because there is no font here to ask. It is of a
//!   wide face, so that text takes less room than was left for it and never more.

mod canvas;
mod dates;
mod figures;
mod flows;
pub mod icalendar;
mod legend;
pub mod letters;
mod limits;
mod looks;
mod manner;
mod matters;
mod panels;
mod pickups;
mod rows;
mod ruler;
mod scale;
pub mod sheet;
mod shell;
mod ticks;
mod trips;
mod vessels;
mod waterfall;
mod year;

pub use manner::Manner;
pub use shell::shell;

use canvas::{Canvas, escaped};
use figures::Figures;
use letters::{Letters, fitted, kept_together, wrapped};
use sumpwright_engine::picture::{Picture, Shows};
use sumpwright_openapi::service::PicturesToDraw;

/// Space around a picture and between two, in pixels.
const EDGE: f64 = 12.0;
/// The same at the sides of a drawing for a phone, whose page has margins of its own.
const EDGE_NARROW: f64 = 4.0;
/// Most room for the name of a currency behind an amount.
const CURRENCY_MOST: f64 = 70.0;
/// Height of a line of the statement.
const LARGE_LINE: f64 = 27.0;
/// Height of a line of small text.
const LINE: f64 = 19.0;

/// One picture as an SVG document of its own.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnPicture {
    /// What it shows, in a line.
    pub title: String,
    /// The document.
    pub svg: String,
    /// Whether it has to be printed in its true size, and so belongs on a sheet of its own.
    pub in_true_size: bool,
}

/// All pictures of an answer as one SVG document, under the statement of the answer. Each picture
/// is an `svg` element of its own within it, which a page can take out and show by itself.
#[must_use]
pub fn svg(to_draw: &PicturesToDraw, manner: Manner) -> String {
    let width = manner.width();
    let (heading, mut top) = heading(to_draw, width);
    let mut pictures = String::new();
    for picture in &to_draw.pictures {
        let drawn = draw(picture, to_draw, manner);
        pictures.push_str(&element(&drawn, top, ""));
        top += drawn.height + EDGE;
    }
    let label = escaped(&to_draw.statement);
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {top}\" \
         width=\"{width}\" height=\"{top}\" font-family=\"system-ui, sans-serif\">\n\
         <title>{label}</title>\n\
         <rect class=\"p-paper\" width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n\
         <g class=\"p-heading\">\n{heading}</g>\n{pictures}</svg>\n"
    )
}

/// Every picture of an answer as a document of its own.
#[must_use]
pub fn pictures(to_draw: &PicturesToDraw, manner: Manner) -> Vec<DrawnPicture> {
    let alone = " xmlns=\"http://www.w3.org/2000/svg\" font-family=\"system-ui, sans-serif\"";
    let each = to_draw.pictures.iter().map(|picture| {
        let drawn = draw(picture, to_draw, manner);
        DrawnPicture {
            title: drawn.title.clone(),
            svg: element(&drawn, 0.0, alone),
            in_true_size: drawn.in_true_size,
        }
    });
    each.collect()
}

/// The space at the sides of a drawing.
fn edge(width: f64) -> f64 {
    if width < WIDE { EDGE_NARROW } else { EDGE }
}

/// A picture that has been laid out.
struct Piece {
    title: String,
    body: String,
    width: f64,
    height: f64,
    in_true_size: bool,
}

/// The `svg` element of a picture. One in its true size says its lengths in millimetres.
fn element(piece: &Piece, top: f64, more: &str) -> String {
    const MILLIMETRES_PER_PIXEL: f64 = 25.4 / 96.0;
    let Piece { width, height, .. } = piece;
    let (class, size) = if piece.in_true_size {
        let (w, h) = (width * MILLIMETRES_PER_PIXEL, height * MILLIMETRES_PER_PIXEL);
        ("p-picture p-true-size", format!("width=\"{w:.3}mm\" height=\"{h:.3}mm\""))
    } else {
        ("p-picture", format!("width=\"{width}\" height=\"{height}\""))
    };
    let title = escaped(&piece.title);
    let body = &piece.body;
    format!(
        "<svg{more} class=\"{class}\" y=\"{top}\" {size} viewBox=\"0 0 {width} {height}\" \
         role=\"img\" aria-label=\"{title}\">\n<title>{title}</title>\n{body}</svg>\n"
    )
}

/// The heading above the pictures, and its height: the statement, and the caller's reference.
fn heading(to_draw: &PicturesToDraw, width: f64) -> (String, f64) {
    let left = edge(width);
    let room = width - 2.0 * left;
    let mut canvas = Canvas::default();
    let mut y = EDGE;
    let statement = Letters::STATEMENT;
    for line in wrapped(&kept_together(&to_draw.statement), room, statement) {
        y += LARGE_LINE;
        canvas.text(left, y - 7.0, &line, statement);
    }
    for line in wrapped(to_draw.reference.as_deref().unwrap_or_default(), room, Letters::SOFT) {
        y += LINE;
        canvas.text(left, y - 5.0, &line, Letters::SOFT);
    }
    (canvas.into_body(), y + EDGE)
}

/// Lays a picture out under its title.
fn draw(picture: &Picture, to_draw: &PicturesToDraw, manner: Manner) -> Piece {
    let width = manner.width();
    let currency = picture.currency.as_deref();
    let currency = currency.map(|name| fitted(name, CURRENCY_MOST, Letters::PLAIN));
    let figures = Figures::of(to_draw.units, manner, currency.as_deref());
    let mut canvas = Canvas::default();
    let left = edge(width);
    let mut top = 0.0;
    for line in wrapped(&picture.title, width - 2.0 * left, Letters::TITLE) {
        top += 22.0;
        canvas.text(left, top - 5.0, &line, Letters::TITLE);
    }
    top += 8.0;
    let mut place = Place { canvas, figures: &figures, left, right: width - left, top };
    let in_true_size = matches!(picture.shows, Shows::Ruler(_));
    match &picture.shows {
        Shows::Panels(own) => panels::draw(own, &mut place),
        Shows::Vessels(own) => vessels::draw(own, &mut place),
        Shows::Scale(own) => scale::draw(own, &mut place),
        Shows::Limits(own) => limits::draw(own, &mut place),
        Shows::Rows(own) => rows::draw(own, &mut place),
        Shows::WhatMatters(own) => matters::draw(own, &mut place),
        Shows::Waterfall(own) => waterfall::draw(own, &mut place),
        Shows::Trips(own) => trips::draw(own, &mut place),
        Shows::Flows(own) => flows::draw(own, &mut place),
        Shows::Pickups(own) => pickups::draw(own, &mut place),
        Shows::Year(own) => year::draw(own, &mut place),
        Shows::Ruler(own) => ruler::draw(own, &mut place),
    }
    let height = (place.top + EDGE).ceil();
    let title = picture.title.to_string();
    Piece { title, body: place.canvas.into_body(), width, height, in_true_size }
}

/// Where a picture is being drawn: what is drawn already, and what room is left.
struct Place<'a> {
    canvas: Canvas,
    figures: &'a Figures<'a>,
    left: f64,
    right: f64,
    /// Where the next thing goes; what a drawer moves down as it draws.
    top: f64,
}

/// From this width on names stand beside what they name.
const WIDE: f64 = 600.0;

impl Place<'_> {
    fn width(&self) -> f64 {
        self.right - self.left
    }

    fn is_wide(&self) -> bool {
        self.width() + 2.0 * EDGE >= WIDE
    }
}
