//! What things look like on paper, and the class by which a page gives them its own colours.

use sumpwright_engine::picture::ContentKind;

/// A class, and the attributes of what has it where no page says otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Look {
    pub(crate) class: &'static str,
    pub(crate) attributes: &'static str,
}

const fn look(class: &'static str, attributes: &'static str) -> Look {
    Look { class, attributes }
}

/// Text, and marks.
pub(crate) const INK: Look = look("p-ink", "fill=\"#1b2226\"");
/// Text that is secondary.
pub(crate) const SOFT: Look = look("p-soft", "fill=\"#55616a\"");
/// Lines of what is drawn.
pub(crate) const LINE: Look =
    look("p-line", "fill=\"none\" stroke=\"#1b2226\" stroke-width=\"2\" stroke-linejoin=\"round\"");
/// Outlines and axes.
pub(crate) const OUTLINE: Look =
    look("p-outline", "fill=\"none\" stroke=\"#1b2226\" stroke-width=\"1.25\"");
/// Leaders and borders.
pub(crate) const RULE: Look = look("p-rule", "fill=\"none\" stroke=\"#aeb7bd\" stroke-width=\"1\"");
/// The grid behind what is drawn.
pub(crate) const GRID: Look = look("p-grid", "fill=\"none\" stroke=\"#e3e7ea\" stroke-width=\"1\"");
/// A hollow mark.
pub(crate) const HOLLOW: Look =
    look("p-hollow", "fill=\"#ffffff\" stroke=\"#1b2226\" stroke-width=\"1.5\"");
/// A quiet surface.
pub(crate) const TINT: Look = look("p-tint", "fill=\"#f1f4f5\"");
/// Fluid.
pub(crate) const FLUID: Look = look("p-fluid", "fill=\"#0b6e6e\"");
/// Fluid of a middling strength.
pub(crate) const FLUID_MIDDLE: Look = look("p-fluid-middle", "fill=\"#7fbab7\"");
/// Water, bands, and what is only an outline of fluid.
pub(crate) const FLUID_PALE: Look = look("p-fluid-pale", "fill=\"#d6eae8\"");
/// Lines in the colour of fluid.
pub(crate) const FLUID_LINE: Look = look(
    "p-fluid-line",
    "fill=\"none\" stroke=\"#0b6e6e\" stroke-width=\"2.5\" stroke-linejoin=\"round\"",
);
/// Where something is not as it should be; what lies behind it still shows.
pub(crate) const OUT: Look = look("p-out", "fill=\"#1b2226\" fill-opacity=\"0.08\"");
/// Hatching on what is pale.
pub(crate) const HATCH: Look =
    look("p-hatch", "fill=\"none\" stroke=\"#1b2226\" stroke-width=\"1\"");
/// Hatching where what lies behind is to be read.
pub(crate) const HATCH_FAINT: Look =
    look("p-hatch-faint", "fill=\"none\" stroke=\"#8d979d\" stroke-width=\"1\"");
/// What keeps areas apart from each other.
pub(crate) const PARTING: Look =
    look("p-parting", "fill=\"none\" stroke=\"#ffffff\" stroke-width=\"1\"");

/// Dashes of lines, as SVG writes them; none for a solid line.
pub(crate) const DASHES: [&str; 6] = ["", "8 4", "2 3", "12 3 2 3", "4 8", "16 4"];
/// Dashes of what something is held to, the first of a panel first.
pub(crate) const LIMIT_DASHES: [&str; 3] = ["6 3", "2 2", "10 3 2 3"];

/// How an area is hatched.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Hatching {
    None,
    Up,
    Down,
    Across,
    /// Upwards and faint, where what lies behind is to be read.
    Faint,
}

/// A shade of an area: its fill and its hatching. Neighbours differ most.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Shade {
    pub(crate) fill: Look,
    pub(crate) hatching: Hatching,
}

const fn shade(fill: Look, hatching: Hatching) -> Shade {
    Shade { fill, hatching }
}

const GREY_DARK: Look = look("p-grey-dark", "fill=\"#55616a\"");
const GREY: Look = look("p-grey", "fill=\"#a9b3b8\"");
const PAPER: Look = look("p-paper", "fill=\"#ffffff\"");

/// The shades of areas, in an order in which neighbours differ most.
pub(crate) const SHADES: [Shade; 10] = [
    shade(FLUID, Hatching::None),
    shade(FLUID_PALE, Hatching::None),
    shade(GREY_DARK, Hatching::None),
    shade(PAPER, Hatching::Up),
    shade(FLUID_MIDDLE, Hatching::None),
    shade(PAPER, Hatching::Across),
    shade(GREY, Hatching::None),
    shade(FLUID_PALE, Hatching::Down),
    shade(PAPER, Hatching::None),
    shade(GREY, Hatching::Up),
];

/// A stretch in which something is not as it should be.
pub(crate) const OUT_SHADE: Shade = shade(OUT, Hatching::Faint);
/// What nobody wrote down.
pub(crate) const FOUND_SHADE: Shade = shade(PAPER, Hatching::Up);
/// What goes off.
pub(crate) const GREY_SHADE: Shade = shade(GREY, Hatching::None);
/// What comes in.
pub(crate) const PALE_SHADE: Shade = shade(FLUID_PALE, Hatching::None);
/// A band that an interval lies on.
pub(crate) const BAND_SHADE: Shade = shade(TINT, Hatching::None);
/// What is there.
pub(crate) const FLUID_SHADE: Shade = shade(FLUID, Hatching::None);

/// The shade of a fluid: the stronger, the darker.
pub(crate) const fn fluid_shade(kind: ContentKind) -> Shade {
    let fill = match kind {
        ContentKind::Water => FLUID_PALE,
        ContentKind::Fluid => FLUID_MIDDLE,
        ContentKind::Concentrate => FLUID,
    };
    shade(fill, Hatching::None)
}
