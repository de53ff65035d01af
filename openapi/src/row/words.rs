//! Words and yes or no, as people type them into cells.

/// The one of `known` that was typed, in any case and with blanks or hyphens in place of
/// underscores.
pub(crate) fn meant<'w>(typed: &str, mut known: impl Iterator<Item = &'w str>) -> Option<&'w str> {
    let letters = bare(typed);
    if letters.is_empty() {
        return None;
    }
    known.find(|word| bare(word) == letters)
}

/// Yes or no; none where it is neither.
pub(crate) fn truth(typed: &str) -> Option<bool> {
    match typed.trim().to_lowercase().as_str() {
        "true" | "yes" => Some(true),
        "false" | "no" => Some(false),
        _ => None,
    }
}

/// The letters and digits of a text, in lower case.
pub(crate) fn bare(text: &str) -> String {
    let letters = text.chars().filter(|letter| letter.is_alphanumeric());
    letters.flat_map(char::to_lowercase).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_is_known_in_any_case() {
        let known = || ["allowed", "not_allowed"].into_iter();
        for typed in ["not_allowed", "Not allowed", " NOT-ALLOWED "] {
            assert_eq!(meant(typed, known()), Some("not_allowed"), "{typed}");
        }
        assert_eq!(meant("alowed", known()), None);
        assert_eq!(meant("--", known()), None);
    }

    #[test]
    fn yes_and_no_are_true_and_false() {
        assert_eq!(["TRUE", " yes", "true"].map(truth), [Some(true); 3]);
        assert_eq!(["False", "NO"].map(truth), [Some(false); 2]);
        assert_eq!(["", "1", "maybe"].map(truth), [None; 3]);
    }
}
