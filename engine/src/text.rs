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
