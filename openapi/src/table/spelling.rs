//! A member's path as a person may write it: in another case, with blanks, hyphens or
//! nothing where the path has dots and underscores.

use sumpwright_engine::document::Shape;

/// The paths in documents of `shape` that `written` may stand for.
pub(super) fn paths(written: &str, shape: &Shape) -> Vec<String> {
    let mut found = Vec::new();
    walk(shape, written, "", &mut found);
    found.sort_unstable();
    found.dedup();
    found
}

/// Every path of `shape` that leads to a value, without those into lists.
pub(super) fn leaves(shape: &Shape) -> Vec<String> {
    let mut found = Vec::new();
    collect(shape, "", &mut found);
    found
}

/// Letters and digits alone, small.
pub(super) fn bare(text: &str) -> String {
    letters(text).flat_map(char::to_lowercase).collect()
}

fn letters(text: &str) -> impl Iterator<Item = char> {
    text.chars().filter(|letter| letter.is_alphanumeric())
}

fn walk(shape: &Shape, rest: &str, path: &str, found: &mut Vec<String>) {
    let rest = rest.trim_start_matches(|letter: char| !letter.is_alphanumeric());
    if rest.is_empty() {
        if !path.is_empty() {
            found.push(path.to_owned());
        }
        return;
    }
    match shape {
        Shape::Record(members, others) => {
            let before = found.len();
            for (name, member) in members {
                if let Some(rest) = after(rest, name) {
                    walk(member, rest, &deeper(path, name), found);
                }
            }
            // A name of the caller's own is spelt as the caller spells it.
            if let Some(others) = others
                && found.len() == before
            {
                let (name, rest) = rest.split_once('.').unwrap_or((rest, ""));
                walk(&others.shape, rest, &deeper(path, name), found);
            }
        }
        Shape::List(entry, most) => {
            let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
            if rest[..digits].parse::<usize>().is_ok_and(|place| place < *most) {
                walk(entry, &rest[digits..], &deeper(path, &rest[..digits]), found);
            }
        }
        Shape::Choice { branches, .. } => {
            branches.values().for_each(|branch| walk(branch, rest, path, found));
        }
        Shape::Either(shapes) => shapes.iter().for_each(|shape| walk(shape, rest, path, found)),
        Shape::Number(_) | Shape::Text | Shape::PropertyName | Shape::Word(_) | Shape::Truth => {}
    }
}

/// What follows `name` at the beginning of `written`.
fn after<'t>(written: &'t str, name: &str) -> Option<&'t str> {
    let mut rest = written;
    for letter in letters(name) {
        rest = rest.trim_start_matches(|other: char| !other.is_alphanumeric());
        let first = rest.chars().next()?;
        if !first.to_lowercase().eq(letter.to_lowercase()) {
            return None;
        }
        rest = &rest[first.len_utf8()..];
    }
    Some(rest)
}

fn collect(shape: &Shape, path: &str, found: &mut Vec<String>) {
    match shape {
        Shape::Record(members, _) => {
            members.iter().for_each(|(name, member)| collect(member, &deeper(path, name), found));
        }
        Shape::Choice { branches, .. } => {
            branches.values().for_each(|branch| collect(branch, path, found));
        }
        Shape::Either(shapes) => shapes.iter().for_each(|shape| collect(shape, path, found)),
        Shape::List(..) => {}
        Shape::Number(_) | Shape::Text | Shape::PropertyName | Shape::Word(_) | Shape::Truth => {
            found.push(path.to_owned());
        }
    }
}

fn deeper(path: &str, step: &str) -> String {
    if path.is_empty() { step.to_owned() } else { format!("{path}.{step}") }
}
