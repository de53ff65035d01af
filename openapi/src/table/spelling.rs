//! A member's path as a person may write it: in a different case, with spaces, hyphens or
//! no separator in place of dots and underscores, or with titles in place of names.
//!
//! An entry of a list is counted from 0 as in a path, or from 1 after `#`: `stocks.0.name` is
//! `Stocks #1: Stock`. A title may stand without those of the members around it.

use crate::row::words::bare;
use sumpwright_engine::document::{NamedMember, Shape};

/// The paths that a heading may stand for: none, the one, or several. A path in another
/// spelling comes before titles; a member that holds a value before one that holds others.
pub(super) fn meant(written: &str, shape: &Shape) -> Vec<String> {
    if !shape.all_at_path(written).is_empty() {
        return vec![written.to_owned()];
    }
    let mut found = Vec::new();
    walk(shape, written, "", &mut found);
    if found.is_empty() {
        each_within(shape, "", &mut |member, path| {
            if let Some(rest) = after(written, &member.title) {
                walk(&member.shape, rest, path, &mut found);
            }
        });
        let holds_a_value = |path: &String| shape.all_at_path(path).into_iter().any(is_value);
        if found.iter().any(holds_a_value) {
            found.retain(holds_a_value);
        }
    }
    found.sort_unstable();
    found.dedup();
    found
}

/// Whether a cell can hold what is here.
pub(super) fn is_value(shape: &Shape) -> bool {
    match shape {
        Shape::Either(shapes) => shapes.iter().any(is_value),
        Shape::List(..) | Shape::Record(..) | Shape::Choice { .. } => false,
        Shape::Number(_)
        | Shape::Text(_)
        | Shape::Moment
        | Shape::Day
        | Shape::PropertyName
        | Shape::Word(_)
        | Shape::Truth => true,
    }
}

fn walk(shape: &Shape, written: &str, path: &str, found: &mut Vec<String>) {
    let rest = written.trim_start_matches(|letter: char| !letter.is_alphanumeric());
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
            // A name chosen by the caller is kept as written; a unit may come after its comma.
            if let Some(others) = others
                && found.len() == before
            {
                let (name, rest) = rest.split_once(['.', ':', ',']).unwrap_or((rest, ""));
                walk(&others.shape, rest, &deeper(path, name), found);
            }
        }
        Shape::List(entry, lengths) => {
            let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
            let first = usize::from(written[..written.len() - rest.len()].contains('#'));
            let place = rest[..digits].parse::<usize>().ok();
            let place = place.and_then(|number| number.checked_sub(first));
            if let Some(place) = place.filter(|place| *place < lengths.most) {
                walk(entry, &rest[digits..], &deeper(path, &place.to_string()), found);
            }
        }
        Shape::Choice { branches, .. } => {
            branches.values().for_each(|branch| walk(branch, written, path, found));
        }
        Shape::Either(shapes) => shapes.iter().for_each(|shape| walk(shape, written, path, found)),
        Shape::Number(_)
        | Shape::Text(_)
        | Shape::Moment
        | Shape::Day
        | Shape::PropertyName
        | Shape::Word(_)
        | Shape::Truth => {}
    }
}

/// Calls `see` with every member outside lists, and its path.
fn each_within(shape: &Shape, path: &str, see: &mut impl FnMut(&NamedMember, &str)) {
    match shape {
        Shape::Record(members, _) => members.iter().for_each(|member| {
            let path = deeper(path, &member.name);
            see(member, &path);
            each_within(&member.shape, &path, see);
        }),
        Shape::Choice { branches, .. } => {
            branches.values().for_each(|branch| each_within(branch, path, see));
        }
        Shape::Either(shapes) => shapes.iter().for_each(|shape| each_within(shape, path, see)),
        Shape::List(..)
        | Shape::Number(_)
        | Shape::Text(_)
        | Shape::Moment
        | Shape::Day
        | Shape::PropertyName
        | Shape::Word(_)
        | Shape::Truth => {}
    }
}

/// The rest of `written` after `name`, if it begins with `name`.
fn after<'t>(written: &'t str, name: &str) -> Option<&'t str> {
    let mut rest = written;
    for letter in bare(name).chars() {
        rest = rest.trim_start_matches(|other: char| !other.is_alphanumeric());
        let first = rest.chars().next()?;
        if !first.to_lowercase().eq(letter.to_lowercase()) {
            return None;
        }
        rest = &rest[first.len_utf8()..];
    }
    Some(rest)
}

/// The path of a step below `path`.
pub(super) fn deeper(path: &str, step: &str) -> String {
    if path.is_empty() { step.to_owned() } else { format!("{path}.{step}") }
}
