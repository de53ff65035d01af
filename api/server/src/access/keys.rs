//! Who may call: keys by name, kept as hashes.
//!
//! A key is 256 random bits, so that a plain SHA-256 of it tells nothing about it;
//! what people choose for themselves would need a slow hash, and is not taken.
//!
//! **Keys are random, so their hashes are plain SHA-256**; a key that people choose would need a slow
//! hash. All hashes are compared, each in constant time.

use crate::configuration::Configuration;
use sha2::{Digest, Sha256};
use std::path::PathBuf;
use std::sync::{Arc, PoisonError, RwLock};
use subtle::{Choice, ConditionallySelectable, ConstantTimeEq};

/// What a line of hashes begins its hash with.
const HASH: &str = "sha256:";
/// The longest name of a key, in characters.
const NAME_MOST: usize = 64;

type Hash = [u8; 32];

/// A key's name and hash.
#[derive(Debug, Clone, PartialEq, Eq)]
struct KnownKey {
    name: Arc<str>,
    hash: Hash,
}

/// The keys that are known.
pub struct Keys {
    file: Option<PathBuf>,
    lines: Vec<String>,
    entries: RwLock<Arc<[KnownKey]>>,
}

impl Keys {
    /// The keys of a configuration, if it has any; or in a sentence what is wrong
    /// with them.
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

    /// Reads the keys again and says how many there are. Where something is wrong
    /// with them, those of before stay.
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
                return Err(format!("{place}: {} has a key already.", entry.name));
            }
            entries.push(entry);
        }
        if entries.is_empty() {
            return Err("There is no key among the keys, and nobody could ask.".to_owned());
        }
        let count = entries.len();
        *self.entries.write().unwrap_or_else(PoisonError::into_inner) = entries.into();
        Ok(count)
    }

    /// The name of the key in an `Authorization` header. It takes as long whichever
    /// key it is, and whether it is one.
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

    /// The file that the keys come from.
    #[must_use]
    pub fn file(&self) -> Option<&PathBuf> {
        self.file.as_ref()
    }
}

/// A new key, and the line that makes it known.
pub fn new_key(name: &str) -> Result<(String, String), String> {
    check_name(name)?;
    let mut bits: Hash = [0; 32];
    getrandom::fill(&mut bits).map_err(|error| format!("no randomness to be had: {error}"))?;
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
            "{name:?} is no name for a key: letters, digits, - _ and . up to {NAME_MOST} of them."
        ));
    }
    Ok(())
}

fn read(line: &str) -> Result<KnownKey, String> {
    let Some((name, hash)) = line.split_once(char::is_whitespace) else {
        return Err(format!("a name, a space and {HASH} with 64 hexadecimal digits belong there."));
    };
    check_name(name)?;
    let mut bytes: Hash = [0; 32];
    let digits = hash.trim().strip_prefix(HASH);
    let digits = digits.ok_or_else(|| format!("the hash of {name} does not begin with {HASH}"))?;
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
            (vec!["alone".to_owned()], "a name, a space"),
            (vec!["a md5:00".to_owned()], "does not begin with sha256:"),
            (vec!["a sha256:00".to_owned()], "not 64 hexadecimal digits"),
            (vec![format!("a/b sha256:{zero}")], "no name for a key"),
            (vec![format!("a sha256:{zero}"); 2], "a has a key already"),
            (vec!["# nobody".to_owned()], "nobody could ask"),
        ] {
            let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
            let refused = keys(&lines).err().expect("it is wrong");
            assert!(refused.contains(expected), "{refused}");
        }
    }
}
