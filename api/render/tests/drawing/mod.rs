//! A drawing read back: its texts with the room that they take, and its numbers.

use sumpwright_render::letters::text_width;

/// A drawing, as far as it is looked at.
pub(crate) struct Drawn {
    /// Its texts, each with its room.
    pub(crate) texts: Vec<DrawnText>,
    /// Height of the whole.
    pub(crate) height: f64,
    source: String,
}

/// A text and the room that it takes.
pub(crate) struct DrawnText {
    /// What it says.
    pub(crate) content: String,
    size: f64,
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
    /// The nested drawing that it is in.
    owner: usize,
}

/// The smallest letters that are read on a phone, in CSS pixels.
const LETTERS_LEAST: f64 = 12.0;
/// What is above and below the baseline, as a share of the size: DejaVu Sans, capitals and
/// descenders.
const ABOVE: f64 = 0.76;
const BELOW: f64 = 0.22;

fn attribute<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    let (_, rest) = tag.split_once(&format!(" {name}=\""))?;
    rest.split_once('"').map(|(value, _)| value)
}

fn number(tag: &str, name: &str) -> f64 {
    let text = attribute(tag, name).unwrap_or("0");
    text.parse().unwrap_or_else(|_| panic!("{name} of {tag}"))
}

fn plain(escaped: &str) -> String {
    let plain = escaped.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"");
    plain.replace("&amp;", "&")
}

impl Drawn {
    /// Reads what the drawer wrote: an element a line, `svg` elements within each other.
    pub(crate) fn read(source: &str) -> Self {
        let mut texts = Vec::new();
        let mut tops: Vec<(f64, usize)> = Vec::new();
        let (mut height, mut owners) = (0.0, 0);
        for tag in source.split('<').skip(1) {
            if tag.starts_with("svg") {
                let top = tops.last().map_or(0.0, |(top, _)| *top) + number(tag, "y");
                if tops.is_empty() && !tag.contains("mm\"") {
                    height = number(tag, "height");
                }
                owners += 1;
                tops.push((top, owners));
            } else if tag.starts_with("/svg") {
                tops.pop().expect("an svg element ends that began");
            } else if tag.starts_with("text ") {
                let (down, owner) = *tops.last().expect("text is in a drawing");
                let (head, content) = tag.split_once('>').expect("a text begins");
                let content = plain(content);
                let size = number(head, "font-size");
                let bold = attribute(head, "font-weight").is_some();
                let width = text_width(&content, size, bold);
                let x = number(head, "x");
                let left = match attribute(head, "text-anchor") {
                    Some("middle") => x - width / 2.0,
                    Some("end") => x - width,
                    _ => x,
                };
                let base = down + number(head, "y");
                let (top, bottom) = (base - ABOVE * size, base + BELOW * size);
                texts.push(DrawnText {
                    content,
                    size,
                    left,
                    right: left + width,
                    top,
                    bottom,
                    owner,
                });
            }
        }
        assert!(tops.is_empty(), "an svg element does not end");
        Self { texts, height, source: source.to_owned() }
    }
}

/// Lengths of the lines that run straight across.
pub(crate) fn horizontals(source: &str) -> Vec<f64> {
    let paths = source.split(" d=\"M").skip(1).filter_map(|rest| rest.split('"').next());
    let lengths = paths.filter_map(|path| {
        let (from, to) = path.split_once('L')?;
        let (x_0, y_0) = from.split_once(' ')?;
        let (x_1, y_1) = to.split_once(' ')?;
        let (x_0, x_1): (f64, f64) = (x_0.parse().ok()?, x_1.parse().ok()?);
        (y_0 == y_1).then_some(x_1 - x_0)
    });
    lengths.collect()
}

/// Asserts that a drawing can be read: letters large enough, no text outside, none over another.
#[track_caller]
pub(crate) fn assert_sound(drawn: &Drawn, width: f64, what: &str) {
    for bad in ["NaN", "inf", "style=", "<style", "url("] {
        assert!(!drawn.source.contains(&format!("\"{bad}")), "{what}: {bad}");
        assert!(!drawn.source.contains(&format!(" {bad}=")), "{what}: {bad}");
    }
    assert!(!drawn.source.contains("NaN "), "{what}: a length is no number");
    assert_eq!(drawn.source.matches("http").count(), 1, "{what}: the name space and nothing else");
    assert!(drawn.texts.len() > 3, "{what}: {} texts", drawn.texts.len());
    for text in &drawn.texts {
        let said = &text.content;
        assert!(text.size >= LETTERS_LEAST, "{what}: {said:?} is {} high", text.size);
        let within = text.left >= 0.0 && text.right <= width;
        assert!(within, "{what}: {said:?} from {} to {}", text.left, text.right);
        let within = text.top >= 0.0 && text.bottom <= drawn.height;
        assert!(within, "{what}: {said:?} from {} to {}", text.top, text.bottom);
    }
    for (i, one) in drawn.texts.iter().enumerate() {
        for other in &drawn.texts[i + 1..] {
            let across = one.left < other.right && other.left < one.right;
            let down = one.top < other.bottom && other.top < one.bottom;
            let empty = one.content.is_empty() || other.content.is_empty();
            assert!(
                empty || !(across && down),
                "{what}: {:?} and {:?} lie over each other, drawings {} and {}",
                one.content,
                other.content,
                one.owner,
                other.owner
            );
        }
    }
}
