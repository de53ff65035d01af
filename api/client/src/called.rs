//! How this program was called, for the commands that it tells to type.

use std::path::Path;

/// Its name where it is found by that alone.
const NAME: &str = "sumpwright-client";

/// The word that calls this program once more: that which called it, as a name that was found by a
/// path is not found without one.
pub(crate) fn called() -> String {
    word(std::env::args().next().as_deref())
}

fn word(first: Option<&str>) -> String {
    let is_this = |word: &&str| Path::new(word).file_stem().is_some_and(|stem| stem == NAME);
    quoted(first.filter(is_this).unwrap_or(NAME))
}

/// A word as a terminal takes it.
pub(crate) fn quoted(word: &str) -> String {
    if word.contains(' ') { format!("\"{word}\"") } else { word.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_program_is_called_as_it_was() {
        for (first, told) in [
            (Some("./sumpwright-client"), "./sumpwright-client"),
            (Some("/opt/the shop/sumpwright-client"), "\"/opt/the shop/sumpwright-client\""),
            (Some("sumpwright-client.exe"), "sumpwright-client.exe"),
            (Some("sumpwright-client"), NAME),
            // Another program that has this one as its library.
            (Some("target/debug/deps/tests-1f"), NAME),
            (None, NAME),
        ] {
            assert_eq!(word(first), told, "{first:?}");
        }
    }
}
