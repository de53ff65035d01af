//! Texts of the caller's that have a limit.

use serde::de::{Deserialize, Deserializer, Error as _};

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

/// Reads a name that may be left out.
pub fn optional_name<'de, D: Deserializer<'de>>(
    deserializer: D,
) -> Result<Option<String>, D::Error> {
    #[derive(serde::Deserialize)]
    struct Name(#[serde(deserialize_with = "name")] String);
    Ok(Option::<Name>::deserialize(deserializer)?.map(|name| name.0))
}
