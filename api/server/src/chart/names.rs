//! Labels written beside their lines, areas and marks, so that none covers another.

/// The look of a labelled thing, shown before its label.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Look {
    /// A line with dashes of this length and gap; 0 is a solid line.
    Line(i32, i32),
    /// An area of this grey.
    Area(u8),
    /// A mark on the horizontal axis.
    Mark,
}

/// A label, and the height at which the labelled thing ends.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct PlacedName {
    pub(super) text: String,
    pub(super) look: Look,
    pub(super) wanted: i32,
    pub(super) at: i32,
}

/// Minimum distance between two labels, in pixels.
const APART: i32 = 18;

/// Maximum length of a label, in characters, to fit the margin.
const LONGEST: usize = 29;

impl PlacedName {
    pub(super) fn new(text: &str, look: Look, wanted: i32) -> Self {
        let text = if text.chars().count() > LONGEST {
            text.chars().take(LONGEST - 1).chain(['…']).collect()
        } else {
            text.to_owned()
        };
        Self { text, look, wanted, at: wanted }
    }
}

/// Moves labels apart between `top` and `bottom`, keeping their order.
pub(super) fn spread(names: &mut [PlacedName], top: i32, bottom: i32) {
    names.sort_by_key(|name| name.wanted);
    let mut free = top;
    for name in names.iter_mut() {
        name.at = name.wanted.max(free);
        free = name.at + APART;
    }
    let mut free = bottom;
    for name in names.iter_mut().rev() {
        name.at = name.at.min(free);
        free = name.at - APART;
    }
}

/// Text escaped for XML, without the characters that XML does not allow.
pub(super) fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\t' | '\n' | '\r' => escaped.push(' '),
            other if other.is_control() || matches!(other, '\u{FFFE}' | '\u{FFFF}') => {
                escaped.push('\u{FFFD}');
            }
            other => escaped.push(other),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_keep_apart_and_in_order() {
        let name = |y: i32| PlacedName::new(&y.to_string(), Look::Mark, y);
        let mut names = [50, 52, 51, 198, 199].map(name);
        spread(&mut names, 0, 200);
        let at = names.each_ref().map(|name| name.at);
        assert!(at.windows(2).all(|pair| pair[1] - pair[0] >= APART), "{at:?}");
        assert!(at.iter().all(|at| (0..=200).contains(at)), "{at:?}");
        assert_eq!(names[1].text, "51");
    }
}
