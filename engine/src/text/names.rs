//! Names that the caller gives: what a name may be, and that each is given once.

use crate::sentence;
use crate::text::{Faults, Part};
use serde::Serialize;
use serde::de::{Deserialize, Deserializer, Error as _};
use smol_str::SmolStr;
use std::collections::BTreeSet;
use std::fmt;
use std::ops::Deref;
use utoipa::openapi::schema::{ObjectBuilder, Type};
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

/// The longest name, in characters.
const NAME_MOST: usize = 128;

/// What the caller calls something: not empty, and no longer than a label holds.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Name(SmolStr);

impl Name {
    /// A name of the engine's own, for what the caller has not named.
    pub(crate) fn of(name: &str) -> Self {
        debug_assert!(is_name(name), "{name:?} is no name");
        Self(name.into())
    }

    /// The name as text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

fn is_name(name: &str) -> bool {
    !name.is_empty() && name.chars().count() <= NAME_MOST
}

impl Deref for Name {
    type Target = str;

    fn deref(&self) -> &str {
        &self.0
    }
}

impl<T: AsRef<str> + ?Sized> PartialEq<T> for Name {
    fn eq(&self, other: &T) -> bool {
        self.0 == other.as_ref()
    }
}

impl fmt::Display for Name {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.0)
    }
}

impl From<Name> for String {
    fn from(name: Name) -> Self {
        name.0.into()
    }
}

impl From<&Name> for Part {
    fn from(name: &Name) -> Self {
        Self::from(name.as_str())
    }
}

impl<'de> Deserialize<'de> for Name {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let name = SmolStr::deserialize(deserializer)?;
        if is_name(&name) {
            Ok(Self(name))
        } else {
            Err(D::Error::custom(format_args!("a name has 1 to {NAME_MOST} characters")))
        }
    }
}

impl PartialSchema for Name {
    fn schema() -> RefOr<Schema> {
        let text = ObjectBuilder::new().schema_type(Type::String);
        text.min_length(Some(1)).max_length(Some(NAME_MOST)).into()
    }
}

impl ToSchema for Name {}

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
    use serde_json::json;

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

    #[test]
    fn the_schema_says_what_is_read_as_a_name() {
        let schema = serde_json::to_value(Name::schema()).expect("a schema");
        assert_eq!(schema, json!({ "type": "string", "minLength": 1, "maxLength": 128 }));
        for good in ["ö", &"ö".repeat(128)] {
            let name: Name = serde_json::from_value(json!(good)).expect("a name");
            assert_eq!(
                (name.as_str(), serde_json::to_value(&name).ok()),
                (good, Some(json!(good)))
            );
        }
        for bad in ["", &"ö".repeat(129)] {
            let refused = serde_json::from_value::<Name>(json!(bad)).expect_err("no name");
            assert_eq!(refused.to_string(), "a name has 1 to 128 characters");
        }
    }
}
