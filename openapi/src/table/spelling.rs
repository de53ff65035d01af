//! A member's path as a person may write it: in a different case, with spaces, hyphens or
//! no separator in place of dots and underscores, or with titles in place of names.

use sumpwright_engine::document::{NamedMember, Shape};

/// The paths in documents of `shape` that `written` may stand for.
pub(super) fn paths(written: &str, shape: &Shape) -> Vec<String> {
    let mut found = Vec::new();
    walk(shape, written, "", &mut found);
    found.sort_unstable();
    found.dedup();
    found
}

/// Every path of `shape` that leads to a value outside lists.
pub(super) fn leaves(shape: &Shape) -> Vec<String> {
    let mut found = Vec::new();
    collect(shape, "", "", &mut |path, _| found.push(path.to_owned()));
    found
}

/// The paths of values outside lists whose title is `title`.
pub(super) fn entitled(title: &str, shape: &Shape) -> Vec<String> {
    let (wanted, mut found) = (bare(title), Vec::new());
    collect(shape, "", "", &mut |path, own| {
        if bare(own) == wanted {
            found.push(path.to_owned());
        }
    });
    found.sort_unstable();
    found.dedup();
    found
}

/// The letters and digits of a text, in lower case.
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
            for NamedMember { name, title, shape, .. } in members {
                let (by_name, by_title) = (after(rest, name), after(rest, title));
                for rest in by_name.into_iter().chain(by_title.filter(|_| by_title != by_name)) {
                    walk(shape, rest, &deeper(path, name), found);
                }
            }
            // A name chosen by the caller is kept as written.
            if let Some(others) = others
                && found.len() == before
            {
                let (name, rest) = rest.split_once('.').unwrap_or((rest, ""));
                walk(&others.shape, rest, &deeper(path, name), found);
            }
        }
        Shape::List(entry, lengths) => {
            let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
            if rest[..digits].parse::<usize>().is_ok_and(|place| place < lengths.most) {
                walk(entry, &rest[digits..], &deeper(path, &rest[..digits]), found);
            }
        }
        Shape::Choice { branches, .. } => {
            branches.values().for_each(|branch| walk(branch, rest, path, found));
        }
        Shape::Either(shapes) => shapes.iter().for_each(|shape| walk(shape, rest, path, found)),
        Shape::Number(_) | Shape::Text(_) | Shape::PropertyName | Shape::Word(_) | Shape::Truth => {
        }
    }
}

/// The rest of `written` after `name`, if it begins with `name`.
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

/// Calls `see` with the path and the title of every value outside lists.
fn collect(shape: &Shape, path: &str, title: &str, see: &mut impl FnMut(&str, &str)) {
    match shape {
        Shape::Record(members, _) => members.iter().for_each(|member| {
            collect(&member.shape, &deeper(path, &member.name), &member.title, see);
        }),
        Shape::Choice { branches, .. } => {
            branches.values().for_each(|branch| collect(branch, path, title, see));
        }
        Shape::Either(shapes) => shapes.iter().for_each(|shape| collect(shape, path, title, see)),
        Shape::List(..) => {}
        Shape::Number(_) | Shape::Text(_) | Shape::PropertyName | Shape::Word(_) | Shape::Truth => {
            see(path, title);
        }
    }
}

fn deeper(path: &str, step: &str) -> String {
    if path.is_empty() { step.to_owned() } else { format!("{path}.{step}") }
}
