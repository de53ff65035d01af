//! Writes the elements of a drawing.

use crate::letters::{Anchor, Letters};
use crate::looks::{HATCH, HATCH_FAINT, Hatching, Look, OUTLINE, Shade};
use std::fmt::Write;

/// A drawing as far as it is written.
#[derive(Debug, Default)]
pub(crate) struct Canvas {
    body: String,
}

/// A rectangle, in pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Area {
    pub(crate) x: f64,
    pub(crate) y: f64,
    pub(crate) w: f64,
    pub(crate) h: f64,
}

impl Area {
    /// Between two corners, whichever they are.
    pub(crate) fn between((x_0, y_0): (f64, f64), (x_1, y_1): (f64, f64)) -> Self {
        Self { x: x_0.min(x_1), y: y_0.min(y_1), w: (x_1 - x_0).abs(), h: (y_1 - y_0).abs() }
    }
}

/// A length to a hundredth of a pixel.
pub(crate) fn pixels(length: f64) -> f64 {
    (length * 100.0).round() / 100.0 + 0.0
}

impl Canvas {
    pub(crate) fn into_body(self) -> String {
        self.body
    }

    fn element(&mut self, name: &str, look: Look, geometry: &str) {
        let Look { class, attributes } = look;
        let _ = writeln!(self.body, "<{name} class=\"{class}\" {attributes} {geometry}/>");
    }

    pub(crate) fn rect(&mut self, look: Look, area: Area) {
        let [x, y, w, h] = [area.x, area.y, area.w, area.h].map(pixels);
        let geometry = format!("x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\"");
        self.element("rect", look, &geometry);
    }

    pub(crate) fn circle(&mut self, look: Look, (x, y): (f64, f64), radius: f64) {
        let [x, y, r] = [x, y, radius].map(pixels);
        self.element("circle", look, &format!("cx=\"{x}\" cy=\"{y}\" r=\"{r}\""));
    }

    pub(crate) fn line(&mut self, look: Look, from: (f64, f64), to: (f64, f64)) {
        self.polyline(look, "", &[from, to]);
    }

    /// A path as SVG writes it.
    pub(crate) fn path(&mut self, look: Look, path: &str) {
        self.element("path", look, &format!("d=\"{path}\""));
    }

    /// A line through points, with dashes.
    pub(crate) fn polyline(&mut self, look: Look, dashes: &str, points: &[(f64, f64)]) {
        let path = through(points);
        let dashes = match dashes {
            "" => String::new(),
            dashes => format!(" stroke-dasharray=\"{dashes}\""),
        };
        self.element("path", look, &format!("d=\"{path}\"{dashes}"));
    }

    /// An area within a line through points.
    pub(crate) fn polygon(&mut self, look: Look, points: &[(f64, f64)]) {
        let path = through(points);
        self.element("path", look, &format!("d=\"{path}Z\""));
    }

    /// An area with its hatching and an outline.
    pub(crate) fn shaded(&mut self, shade: Shade, area: Area) {
        self.rect(shade.fill, area);
        self.hatch(shade.hatching, area);
        self.rect(OUTLINE, area);
    }

    /// The same without its outline.
    pub(crate) fn shaded_open(&mut self, shade: Shade, area: Area) {
        self.rect(shade.fill, area);
        self.hatch(shade.hatching, area);
    }

    fn hatch(&mut self, hatching: Hatching, area: Area) {
        const APART: f64 = 6.0;
        let Area { x, y, w, h } = area;
        let mut path = String::new();
        let mut stroke = |from: (f64, f64), to: (f64, f64)| {
            let [a, b, c, d] = [from.0, from.1, to.0, to.1].map(pixels);
            let _ = write!(path, "M{a} {b}L{c} {d}");
        };
        let span = match hatching {
            Hatching::None => return,
            Hatching::Across => h,
            Hatching::Up | Hatching::Down | Hatching::Faint => w + h,
        };
        let mut at = APART / 2.0;
        while at < span {
            if hatching == Hatching::Across {
                stroke((x, y + at), (x + w, y + at));
            } else {
                // A diagonal within the rectangle: from its left or lower side to its upper or right.
                let begin = if at < h { (0.0, at) } else { (at - h, h) };
                let end = if at < w { (at, 0.0) } else { (w, at - w) };
                let flip = |(px, py): (f64, f64)| {
                    (x + if hatching == Hatching::Down { w - px } else { px }, y + py)
                };
                stroke(flip(begin), flip(end));
            }
            at += APART;
        }
        if !path.is_empty() {
            self.path(if hatching == Hatching::Faint { HATCH_FAINT } else { HATCH }, &path);
        }
    }

    /// A line of text; `y` is its baseline.
    pub(crate) fn text(&mut self, x: f64, y: f64, text: &str, letters: Letters) {
        if text.is_empty() {
            return;
        }
        let anchor = match letters.anchor {
            Anchor::Start => "",
            Anchor::Middle => " text-anchor=\"middle\"",
            Anchor::End => " text-anchor=\"end\"",
        };
        let weight = if letters.bold { " font-weight=\"bold\"" } else { "" };
        let ([x, y], size) = ([x, y].map(pixels), letters.size);
        let Look { class, attributes } = letters.look;
        let _ = writeln!(
            self.body,
            "<text class=\"{class}\" {attributes} x=\"{x}\" y=\"{y}\" \
             font-size=\"{size}\"{weight}{anchor}>{}</text>",
            escaped(text)
        );
    }
}

fn through(points: &[(f64, f64)]) -> String {
    let mut path = String::new();
    for (i, (x, y)) in points.iter().enumerate() {
        let ([x, y], step) = ([*x, *y].map(pixels), if i == 0 { 'M' } else { 'L' });
        let _ = write!(path, "{step}{x} {y}");
    }
    path
}

/// Text escaped for XML, without the characters that XML does not allow.
pub(crate) fn escaped(text: &str) -> String {
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
    use crate::looks::SHADES;

    #[test]
    fn text_is_escaped() {
        assert_eq!(escaped("a<b> & \"c\"\u{1}\n"), "a&lt;b&gt; &amp; &quot;c&quot;\u{FFFD} ");
    }

    #[test]
    fn hatching_stays_within_its_area() {
        for shade in SHADES {
            for (w, h) in [(30.0, 8.0), (8.0, 30.0), (2.0, 2.0), (0.0, 5.0)] {
                let mut canvas = Canvas::default();
                canvas.hatch(shade.hatching, Area { x: 0.0, y: 0.0, w, h });
                let body = canvas.into_body();
                let path = body.split(" d=\"").nth(1).and_then(|rest| rest.split('"').next());
                for point in path.unwrap_or_default().split(['M', 'L']).filter(|p| !p.is_empty()) {
                    let (x, y) = point.split_once(' ').expect("two numbers");
                    let (x, y): (f64, f64) = (x.parse().expect("x"), y.parse().expect("y"));
                    assert!((0.0..=w).contains(&x) && (0.0..=h).contains(&y), "{path:?}");
                }
            }
        }
    }
}
