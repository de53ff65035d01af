//! How wide text is, and text broken or cut to a width.
//!
//! The widths are those of DejaVu Sans, measured in a browser. That is an approximation: a drawing is read in
//! whatever face the reader has. Of those that are common it is the widest by a tenth, so
//! that others leave a margin and none needs more room.

use crate::looks::{INK, Look, SOFT};

/// The size and weight of a text, and where its anchor lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Letters {
    /// Height of the letters, in CSS pixels.
    pub size: f64,
    /// Whether they are bold.
    pub bold: bool,
    pub(crate) anchor: Anchor,
    pub(crate) look: Look,
}

/// Which end of a text its place is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

impl Letters {
    pub(crate) const STATEMENT: Self = Self { size: 19.0, bold: true, ..Self::PLAIN };
    pub(crate) const TITLE: Self = Self { size: 15.0, bold: true, ..Self::PLAIN };
    pub(crate) const LARGE: Self = Self { size: 17.0, bold: true, ..Self::PLAIN };
    pub(crate) const BOLD: Self = Self { bold: true, ..Self::PLAIN };
    pub(crate) const PLAIN: Self =
        Self { size: 13.0, bold: false, anchor: Anchor::Start, look: INK };
    pub(crate) const SOFT: Self = Self { look: SOFT, ..Self::PLAIN };
    pub(crate) const SMALL: Self = Self { size: 12.0, ..Self::PLAIN };
    pub(crate) const SMALL_BOLD: Self = Self { bold: true, ..Self::SMALL };

    pub(crate) const fn middle(self) -> Self {
        Self { anchor: Anchor::Middle, ..self }
    }

    pub(crate) const fn end(self) -> Self {
        Self { anchor: Anchor::End, ..self }
    }

    /// How wide a text is in these letters, in CSS pixels.
    #[must_use]
    pub fn width_of(self, text: &str) -> f64 {
        text_width(text, self.size, self.bold)
    }
}

/// Hundredths of the size that the printable ASCII characters are wide, from the blank on.
const WIDTHS: [u8; 95] = [
    32, 40, 46, 84, 64, 95, 78, 27, 39, 39, 50, 84, 32, 36, 32, 34, // blank to /
    64, 64, 64, 64, 64, 64, 64, 64, 64, 64, 34, 34, 84, 84, 84, 53, // 0 to ?
    100, 68, 69, 70, 77, 63, 58, 77, 75, 29, 29, 66, 56, 86, 75, 79, // @ to O
    60, 79, 69, 63, 61, 73, 68, 99, 69, 61, 69, 39, 34, 39, 84, 50, // P to _
    50, 61, 63, 55, 63, 62, 35, 63, 63, 28, 28, 58, 28, 97, 63, 61, // ` to o
    63, 63, 41, 52, 39, 63, 59, 82, 59, 59, 52, 64, 34, 64, 84, // p to ~
];

/// How much wider bold letters are, at most on average.
const BOLD: f64 = 1.17;

/// How wide a text is, in CSS pixels, in letters of a size.
#[must_use]
pub fn text_width(text: &str, size: f64, bold: bool) -> f64 {
    let hundredths: f64 = text.chars().map(hundredths).sum();
    hundredths / 100.0 * size * if bold { BOLD } else { 1.0 }
}

fn hundredths(character: char) -> f64 {
    if let Some(width) = (character as usize).checked_sub(32).and_then(|i| WIDTHS.get(i)) {
        return f64::from(*width);
    }
    match character {
        // Blanks of a number and its unit; marks that are put on other letters.
        '\u{a0}' => 32.0,
        '\u{2009}' | '\u{202f}' => 20.0,
        '\u{300}'..='\u{36f}' | '\u{200b}'..='\u{200f}' | '\u{fe00}'..='\u{fe0f}' => 0.0,
        '\u{b0}' | '–' => 50.0,
        '\u{a1}'..='\u{52f}' => 84.0,
        // Ideographs and pictures fill a square; anything unknown may.
        _ => 105.0,
    }
}

/// A text cut to a width, with a mark where it was cut.
#[must_use]
pub fn fitted(text: &str, room: f64, letters: Letters) -> String {
    if letters.width_of(text) <= room {
        return text.to_owned();
    }
    let mut cut = String::new();
    for character in text.chars() {
        cut.push(character);
        if letters.width_of(&cut) + letters.width_of("…") > room {
            cut.pop();
            break;
        }
    }
    let mut cut = cut.trim_end().to_owned();
    cut.push('…');
    cut
}

/// A text in which no number is broken from what stands behind it: "0.27 L", "8 %".
#[must_use]
pub fn kept_together(text: &str) -> String {
    let mut kept = String::with_capacity(text.len());
    let mut after_number = false;
    for character in text.chars() {
        kept.push(if character == ' ' && after_number { '\u{a0}' } else { character });
        after_number = character.is_ascii_digit() || character == '±';
    }
    kept
}

/// A text broken into lines of a width; a word that is longer than that is cut into pieces.
#[must_use]
pub fn wrapped(text: &str, room: f64, letters: Letters) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let blank = letters.width_of(" ");
    let mut filled = 0.0;
    // A blank that keeps a number and its unit together is no place to break at.
    for word in text.split([' ', '\t', '\n', '\r']).filter(|word| !word.is_empty()) {
        for piece in pieces(word, room, letters) {
            let width = letters.width_of(&piece);
            match lines.last_mut() {
                Some(line) if filled + blank + width <= room => {
                    line.push(' ');
                    line.push_str(&piece);
                    filled += blank + width;
                }
                _ => {
                    lines.push(piece);
                    filled = width;
                }
            }
        }
    }
    lines
}

/// The same in so many lines at most, the last one cut.
#[must_use]
pub fn wrapped_to(text: &str, room: f64, most: usize, letters: Letters) -> Vec<String> {
    let mut lines = wrapped(text, room, letters);
    if lines.len() > most {
        let rest = lines.split_off(most.saturating_sub(1)).join(" ");
        lines.push(fitted(&rest, room, letters));
    }
    lines
}

fn pieces(word: &str, room: f64, letters: Letters) -> Vec<String> {
    if letters.width_of(word) <= room {
        return vec![word.to_owned()];
    }
    let mut pieces = vec![String::new()];
    for character in word.chars() {
        let Some(piece) = pieces.last_mut() else { break };
        piece.push(character);
        if letters.width_of(piece) > room && piece.chars().nth(1).is_some() {
            piece.pop();
            pieces.push(character.to_string());
        }
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_never_wider_than_its_room() {
        let text =
            "a fairly long name of a machine Wwwwwwwwwwwwwwwwwwwwwwwwwwww 漢字漢字漢字漢字 end";
        for room in [40.0, 77.0, 200.0] {
            let lines = wrapped(text, room, Letters::PLAIN);
            assert!(lines.iter().all(|line| Letters::PLAIN.width_of(line) <= room), "{lines:?}");
            let all: String = lines.concat().replace(' ', "");
            assert_eq!(all, text.replace(' ', ""), "nothing is lost");
            assert!(Letters::BOLD.width_of(&fitted(text, room, Letters::BOLD)) <= room);
            assert!(wrapped_to(text, room, 2, Letters::PLAIN).len() <= 2);
        }
    }

    #[test]
    fn a_number_stays_with_its_unit() {
        let lines = wrapped("makes 800\u{a0}L in all", 60.0, Letters::PLAIN);
        assert!(lines.iter().any(|line| line.contains("800\u{a0}L")), "{lines:?}");
    }
}
