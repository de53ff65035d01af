//! The picture of the answer on its job sheet, where there is room for it.

use super::Spacing;
use crate::{Manner, pictures};
use maud::{Markup, PreEscaped, html};
use sumpwright_engine::picture::{Picture, Shows};
use sumpwright_openapi::service::PicturesToDraw;
use sumpwright_openapi::sheet::SheetToDraw;

/// The picture of where a reading lies, unless the steps need the whole sheet.
pub(super) fn picture(to_draw: &SheetToDraw, spacing: Spacing) -> Markup {
    let is_full = matches!(spacing, Spacing::Close | Spacing::Dense);
    let found = to_draw.pictures.iter().find(|picture| !is_full && is_small(picture));
    let drawn = found.map(|picture| {
        let alone = PicturesToDraw {
            pictures: vec![picture.clone()],
            statement: String::new(),
            units: to_draw.units,
            reference: None,
        };
        pictures(&alone, Manner::default())
    });
    html! {
        @for picture in drawn.iter().flatten() { figure { (PreEscaped(&picture.svg)) } }
    }
}

/// Whether a picture leaves room for the steps, in letters as large as theirs: a tank beside
/// them would take a second page of Letter.
const fn is_small(picture: &Picture) -> bool {
    matches!(picture.shows, Shows::Scale(_))
}
