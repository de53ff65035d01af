//! The keys of callers, by name, kept as hashes.
//!
//! **Keys are 256 random bits, so a plain SHA-256 protects them**; a key that a person chooses would need a
//! slow hash and is not accepted. All hashes are compared, each in constant time.

use crate::configuration::Configuration;
use sha2::{Digest, Sha256};
use std::path::PathBuf;
use std::sync::{Arc, PoisonError, RwLock};
use subtle::{Choice, ConditionallySelectable, ConstantTimeEq};

/// Prefix of a hash in the file of keys.
const HASH: &str = "sha256:";
/// Maximum length of a key's name, in characters.
const NAME_MOST: usize = 64;

type Hash = [u8; 32];

/// The name and the hash of a key.
#[derive(Debug, Clone, PartialEq, Eq)]
struct KnownKey {
    name: Arc<str>,
    hash: Hash,
}

/// The keys that the service accepts.
pub struct Keys {
    file: Option<PathBuf>,
    lines: Vec<String>,
    entries: RwLock<Arc<[KnownKey]>>,
}

impl Keys {
    /// The keys of a configuration, if it has any.
    ///
    /// # Errors
    ///
    /// If the keys cannot be read: a sentence for the operator.
    pub fn of(configuration: &Configuration) -> Result<Option<Self>, String> {
        if !configuration.has_keys() {
            return Ok(None);
        }
        let file = configuration.keys.clone();
        let keys =
            Self { file, lines: configuration.key_hashes.clone(), entries: RwLock::default() };
        keys.reload()?;
        Ok(Some(keys))
    }

    /// Reads the keys again and returns their number. If there is an error, the old
    /// keys stay in force.
    pub fn reload(&self) -> Result<usize, String> {
        let text = match &self.file {
            Some(file) => std::fs::read_to_string(file)
                .map_err(|error| format!("{} cannot be read: {error}", file.display()))?,
            None => String::new(),
        };
        let mut entries: Vec<KnownKey> = Vec::new();
        let of_file = text.lines().enumerate().map(|(i, line)| {
            let file = self.file.as_ref().map(|file| file.display().to_string());
            (format!("{}, line {}", file.unwrap_or_default(), i + 1), line)
        });
        let given = self.lines.iter().map(|line| ("key_hashes".to_owned(), line.as_str()));
        for (place, line) in of_file.chain(given) {
            let line = line.trim();
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            let entry = read(line).map_err(|wrong| format!("{place}: {wrong}"))?;
            if entries.iter().any(|other| other.name == entry.name) {
                return Err(format!("{place}: there is already a key named {}.", entry.name));
            }
            entries.push(entry);
        }
        if entries.is_empty() {
            return Err("There are no keys, so nobody could use the service.".to_owned());
        }
        let count = entries.len();
        *self.entries.write().unwrap_or_else(PoisonError::into_inner) = entries.into();
        Ok(count)
    }

    /// The name of the key in an `Authorization` header. The time taken does not depend
    /// on which key it is or whether it is valid.
    #[must_use]
    pub fn name_of(&self, authorization: Option<&[u8]>) -> Option<Arc<str>> {
        let (scheme, key) = authorization?.split_at_checked("Bearer ".len())?;
        if !scheme.eq_ignore_ascii_case(b"Bearer ") {
            return None;
        }
        let hash = hash(key.trim_ascii());
        let entries = Arc::clone(&self.entries.read().unwrap_or_else(PoisonError::into_inner));
        let (mut found, mut place) = (Choice::from(0), 0_u64);
        for (number, entry) in (0_u64..).zip(entries.iter()) {
            let same = entry.hash.ct_eq(&hash);
            place.conditional_assign(&number, same);
            found |= same;
        }
        let place = usize::try_from(place).ok()?;
        bool::from(found).then(|| entries.get(place).map(|entry| Arc::clone(&entry.name)))?
    }

    /// The file of keys.
    #[must_use]
    pub fn file(&self) -> Option<&PathBuf> {
        self.file.as_ref()
    }
}

/// A new key, and its line for the file of keys.
pub fn new_key(name: &str) -> Result<(String, String), String> {
    check_name(name)?;
    let mut bits: Hash = [0; 32];
    getrandom::fill(&mut bits)
        .map_err(|error| format!("no random numbers are available: {error}"))?;
    let key = hex::encode(bits);
    let line = format!("{name} {HASH}{}", hex::encode(hash(key.as_bytes())));
    Ok((key, line))
}

fn hash(key: &[u8]) -> Hash {
    Sha256::digest(key).into()
}

fn check_name(name: &str) -> Result<(), String> {
    let sound = |c: char| c.is_ascii_alphanumeric() || "-_.".contains(c);
    if name.is_empty() || name.len() > NAME_MOST || !name.chars().all(sound) {
        return Err(format!(
            "{name:?} is not a valid name for a key. Use letters, digits, - _ and . (at most \
             {NAME_MOST})."
        ));
    }
    Ok(())
}

fn read(line: &str) -> Result<KnownKey, String> {
    let Some((name, hash)) = line.split_once(char::is_whitespace) else {
        return Err(format!("expected a name, a space and {HASH} with 64 hexadecimal digits."));
    };
    check_name(name)?;
    let mut bytes: Hash = [0; 32];
    let digits = hash.trim().strip_prefix(HASH);
    let digits = digits.ok_or_else(|| format!("the hash of {name} does not begin with {HASH}."))?;
    hex::decode_to_slice(digits, &mut bytes)
        .map_err(|_| format!("the hash of {name} is not 64 hexadecimal digits."))?;
    Ok(KnownKey { name: name.into(), hash: bytes })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn keys(lines: &[&str]) -> Result<Keys, String> {
        let key_hashes = lines.iter().map(|line| (*line).to_owned()).collect();
        let configuration = Configuration { key_hashes, ..Configuration::default() };
        Keys::of(&configuration).map(|keys| keys.expect("there are keys"))
    }

    #[test]
    fn a_key_is_known_by_its_hash_alone() {
        // FIPS 180-2, appendix B.1: the SHA-256 of "abc".
        let line =
            "press-shop sha256:ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        let (key, other) = new_key("mes").expect("a key");
        let keys = keys(&[line, &other]).expect("they are sound");
        let name = |header: &str| keys.name_of(Some(header.as_bytes()));
        assert_eq!(name("Bearer abc").as_deref(), Some("press-shop"));
        assert_eq!(name("bearer  abc ").as_deref(), Some("press-shop"));
        assert_eq!(name(&format!("Bearer {key}")).as_deref(), Some("mes"));
        for wrong in ["Bearer abd", "Bearer ", "Bearer", "Basic abc", "abc", ""] {
            assert_eq!(name(wrong), None, "{wrong}");
        }
        assert_eq!(keys.name_of(None), None);
    }

    #[test]
    fn what_is_wrong_with_a_line_is_said() {
        let zero = "0".repeat(64);
        for (lines, expected) in [
            (vec!["alone".to_owned()], "expected a name, a space"),
            (vec!["a md5:00".to_owned()], "does not begin with sha256:"),
            (vec!["a sha256:00".to_owned()], "not 64 hexadecimal digits"),
            (vec![format!("a/b sha256:{zero}")], "is not a valid name"),
            (vec![format!("a sha256:{zero}"); 2], "already a key named a"),
            (vec!["# nobody".to_owned()], "nobody could use"),
        ] {
            let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
            let refused = keys(&lines).err().expect("it is wrong");
            assert!(refused.contains(expected), "{refused}");
        }
    }
}
