//! Names that the caller gives: what a name may be, and that each is given once.

use crate::sentence;
use crate::text::Faults;
use serde::de::{Deserialize, Deserializer, Error as _};
use std::collections::BTreeSet;

/// The longest name, in characters.
pub const NAME_MOST: usize = 128;

/// Reads a name: something, and no more than a label holds.
pub fn name<'de, D: Deserializer<'de>>(deserializer: D) -> Result<String, D::Error> {
    let name = String::deserialize(deserializer)?;
    if name.is_empty() || name.chars().count() > NAME_MOST {
        return Err(D::Error::custom(format_args!("a name has 1 to {NAME_MOST} characters")));
    }
    Ok(name)
}

/// Reads an optional name.
pub fn optional_name<'de, D: Deserializer<'de>>(
    deserializer: D,
) -> Result<Option<String>, D::Error> {
    #[derive(serde::Deserialize)]
    struct Name(#[serde(deserialize_with = "name")] String);
    Ok(Option::<Name>::deserialize(deserializer)?.map(|name| name.0))
}

/// Notes every name in the list at `pointer` that an entry before it has already. `what`
/// says what the entries are, in the plural.
pub(crate) fn check_unique<'a>(
    names: impl IntoIterator<Item = &'a str>,
    what: &'static str,
    pointer: &str,
    faults: &mut Faults,
) {
    let mut seen = BTreeSet::new();
    for (i, name) in names.into_iter().enumerate() {
        if !seen.insert(name) {
            let detail = sentence!(
                "Two {} are called \"{}\". Give each its own name, so that the answer can tell \
                 them apart.",
                what,
                name
            );
            faults.add(format!("{pointer}/{i}/name"), detail);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::UnitSystem;
    use crate::text::Kind;

    #[test]
    fn a_name_that_comes_again_is_noted_at_its_place() {
        let mut faults = Faults::default();
        check_unique(["a{}b", "c", "a{}b", "c"], "stocks", "/stocks", &mut faults);
        let refusal = faults.or_refuse(Kind::Inconsistent).expect_err("two names twice");
        let places: Vec<&str> = refusal.faults.iter().map(|f| f.pointer.as_str()).collect();
        assert_eq!(places, ["/stocks/2/name", "/stocks/3/name"]);
        let detail = refusal.faults[0].detail.show(UnitSystem::Metric);
        assert!(detail.starts_with("Two stocks are called \"a{}b\"."), "{detail}");
    }
}
