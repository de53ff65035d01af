//! Keeps a document off the quick way if it contains something that serde accepts
//! and the schema does not.
//!
//! serde reads a list in place of an object member by member, does not count
//! entries or the properties of all fluids together, and accepts a number as a type
//! tag. A document that contains any of this, even inside a text, goes the thorough
//! way.
//!
//! # Decisions
//!
//! - **It stays as long as nothing simpler is as quick**: with it a service answers more than twice as many of the
//!   README's requests a second over HTTP as when every document goes the thorough way (measured on one core, five turns
//!   each).

use memchr::memmem::Finder;
use std::collections::BTreeSet;
use sumpwright_engine::document::Shape;
use sumpwright_engine::fluid::properties::{FOLLOWED_MOST, PROPERTIES_MOST, TRAMP_OIL};

/// The patterns to look for in documents of one shape.
pub(crate) struct Plain {
    /// Lists by name, with their maximum number of entries.
    lists: Vec<(String, usize)>,
    /// The names of type tags, in quotation marks.
    tags: Vec<Finder<'static>>,
    /// All names except those of properties.
    names: BTreeSet<String>,
}

impl Plain {
    /// The patterns for documents of `shape`.
    pub(crate) fn of(shape: &Shape) -> Self {
        let finder = |tag: &String| Finder::new(&format!("\"{tag}\"")).into_owned();
        Self {
            lists: shape.lists().into_iter().collect(),
            tags: shape.tags().iter().map(finder).collect(),
            names: shape.all_names().into_iter().filter(|name| name != TRAMP_OIL).collect(),
        }
    }

    /// Whether a document may take the quick way.
    pub(crate) fn fits(&self, bytes: &[u8]) -> bool {
        memchr::memchr_iter(b'[', bytes).all(|at| self.list_fits(bytes, at))
            && self.tags.iter().all(|tag| {
                tag.find_iter(bytes).all(|at| {
                    let rest = bytes[at + tag.needle().len()..].trim_ascii_start();
                    rest.strip_prefix(b":")
                        .is_some_and(|rest| rest.trim_ascii_start().starts_with(b"\""))
                })
            })
            && self.properties_fit(bytes)
    }

    /// Whether the numbers of properties and fluids are within their limits.
    fn properties_fit(&self, bytes: &[u8]) -> bool {
        if memchr::memchr_iter(b':', bytes).count() < PROPERTIES_MOST {
            return true;
        }
        let mut others = BTreeSet::from([TRAMP_OIL.as_bytes()]);
        for at in memchr::memchr_iter(b':', bytes) {
            let before = bytes[..at].trim_ascii_end();
            let Some(before) = before.strip_suffix(b"\"") else { continue };
            let from = memchr::memrchr(b'"', before).map_or(0, |quote| quote + 1);
            let is_name =
                str::from_utf8(&before[from..]).is_ok_and(|name| self.names.contains(name));
            if !is_name && others.insert(&before[from..]) && others.len() > PROPERTIES_MOST {
                return false;
            }
        }
        others.len() * memchr::memchr_iter(b'{', bytes).count() <= FOLLOWED_MOST
    }

    /// Whether the bracket at a place opens a list that the question has, not empty
    /// and within its maximum length.
    fn list_fits(&self, bytes: &[u8], at: usize) -> bool {
        let name = bytes[..at].trim_ascii_end().strip_suffix(b":");
        let name = name.and_then(|name| name.trim_ascii_end().strip_suffix(b"\""));
        let list = name.and_then(|name| {
            let is = |list: &&(String, usize)| {
                let rest = name.strip_suffix(list.0.as_bytes());
                rest.is_some_and(|rest| rest.ends_with(b"\""))
            };
            self.lists.iter().find(is)
        });
        let inside = &bytes[at + 1..];
        list.is_some_and(|(_, most)| {
            !inside.trim_ascii_start().starts_with(b"]") && has_at_most(inside, *most)
        })
    }
}

/// Whether a list has at most this many entries; `inside` is the text after its
/// bracket.
fn has_at_most(inside: &[u8], most: usize) -> bool {
    // An entry and its comma take at least two bytes.
    if inside.len() < 2 * most {
        return true;
    }
    let (mut depth, mut entries) = (0_usize, 1);
    let (mut in_text, mut escaped) = (false, false);
    for byte in inside {
        match byte {
            _ if escaped => escaped = false,
            b'\\' if in_text => escaped = true,
            b'"' => in_text = !in_text,
            _ if in_text => {}
            b'[' | b'{' => depth += 1,
            b']' | b'}' if depth == 0 => return true,
            b']' | b'}' => depth -= 1,
            b',' if depth == 0 => {
                entries += 1;
                if entries > most {
                    return false;
                }
            }
            _ => {}
        }
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;
    use sumpwright_engine::document::Lengths;
    use sumpwright_engine::document::NamedMember;

    #[test]
    fn entries_are_counted_and_not_what_stands_in_them() {
        let inside = r#"{"a":[1,2,3],"b":"x,]\",y"}, 2, 3], "other": [1, 2, 3, 4]"#;
        assert!(has_at_most(inside.as_bytes(), 3));
        assert!(!has_at_most(inside.as_bytes(), 2));
    }

    #[test]
    fn a_list_is_a_list_and_a_word_a_word() {
        let words = |word: &str| Shape::Word(vec![word.to_owned()]);
        let branch = |word: &str| Shape::Record(vec![NamedMember::new("kind", words(word))], None);
        let branches = ["a", "b"].map(|word| (word.to_owned(), branch(word)));
        let choice = Shape::Choice { tag: "kind".to_owned(), branches: branches.into() };
        let list = Shape::List(Box::new(choice), Lengths { least: 1, most: 2 });
        let shape = Shape::Record(vec![NamedMember::new("entries", list)], None);
        let plain = Plain::of(&shape);
        assert!(plain.fits(br#"{ "entries" : [ {"kind": "a"}, { "kind" :"b" } ] }"#));
        for odd in [
            r#"{"entries": [{"kind": 0}]}"#,
            r#"{"entries": []}"#,
            r#"{"entries": [{"kind":"a"},{"kind":"a"},{"kind":"a"}]}"#,
            r#"{"others": [1]}"#,
        ] {
            assert!(!plain.fits(odd.as_bytes()), "{odd}");
        }
    }
}
