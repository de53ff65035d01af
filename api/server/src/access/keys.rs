//! The keys of callers, by name, kept as hashes.
//!
//! **Keys are 256 random bits, so a plain SHA-256 protects them**; a key that a person chooses would need a
//! slow hash and is not accepted. All hashes are compared, each in constant time.
//!
//! **A key may stand in an address only if its line says so, and for which calculations**: an address is
//! written down in places that no header is. `cells sha256:… in_address top-up concentration` names a key
//! with which cells of a spreadsheet ask for two calculations, by GET, and which does nothing else.

use crate::configuration::Configuration;
use sha2::{Digest, Sha256};
use std::io::ErrorKind;
use std::path::PathBuf;
use std::sync::{Arc, PoisonError, RwLock};
use subtle::{Choice, ConditionallySelectable, ConstantTimeEq};
use sumpwright_engine::text::text_with_nearest;
use sumpwright_openapi::service::Services;

/// Prefix of a hash in the file of keys.
const HASH: &str = "sha256:";
/// The word after a hash whose key may stand in an address.
const IN_ADDRESS: &str = "in_address";
/// Maximum length of a key's name, in characters.
const NAME_MOST: usize = 64;

type Hash = [u8; 32];

/// The holder of a key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Holder {
    /// Its name.
    pub name: Arc<str>,
    /// Of a key that may stand in an address, the calculations that it reads; no others.
    pub reads: Option<Arc<[&'static str]>>,
}

/// A holder and the hash of its key.
#[derive(Debug, Clone, PartialEq, Eq)]
struct KnownKey {
    holder: Holder,
    hash: Hash,
}

/// What the lines of the keys say.
struct ReadKeys {
    entries: Vec<KnownKey>,
    /// What is wrong with each line that is no key.
    wrong: Vec<String>,
}

/// What came of reading the keys again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reloaded {
    /// The number of keys in force.
    pub keys: usize,
    /// What is wrong with each line that is no key.
    pub wrong: Vec<String>,
}

/// The keys that the service accepts.
pub struct Keys {
    file: Option<PathBuf>,
    lines: Vec<String>,
    /// The calculations that there are.
    calculations: Vec<&'static str>,
    entries: RwLock<Arc<[KnownKey]>>,
}

impl Keys {
    /// The keys of a configuration, if it has any.
    ///
    /// # Errors
    ///
    /// If the keys cannot be read: a sentence for the operator.
    pub fn of(configuration: &Configuration, services: &Services) -> Result<Option<Self>, String> {
        if !configuration.has_keys() {
            return Ok(None);
        }
        let file = configuration.keys.clone();
        let calculations = services.iter().map(|service| service.name).collect();
        let lines = configuration.key_hashes.clone();
        let keys = Self { file, lines, calculations, entries: RwLock::default() };
        let mut read = keys.read()?;
        if !read.wrong.is_empty() {
            return Err(read.wrong.swap_remove(0));
        }
        if read.entries.is_empty() {
            return Err("There are no keys, so nobody could use the service.".to_owned());
        }
        keys.hold(read.entries);
        Ok(Some(keys))
    }

    /// Reads the keys again. Whoever stands in no line any more has no key, even if no line is left; a line with a
    /// fault is no key, and a file that is gone has no lines. If it is there and cannot be read, the old keys stay in
    /// force.
    pub fn reload(&self) -> Result<Reloaded, String> {
        let read = self.read()?;
        let reloaded = Reloaded { keys: read.entries.len(), wrong: read.wrong };
        self.hold(read.entries);
        Ok(reloaded)
    }

    /// The number of keys in force.
    #[must_use]
    pub fn count(&self) -> usize {
        self.entries().len()
    }

    fn hold(&self, entries: Vec<KnownKey>) {
        *self.entries.write().unwrap_or_else(PoisonError::into_inner) = entries.into();
    }

    /// The keys of all lines, and the lines that are none. A file that is gone has no lines.
    fn read(&self) -> Result<ReadKeys, String> {
        let text = match &self.file {
            Some(file) => match std::fs::read_to_string(file) {
                Err(error) if error.kind() == ErrorKind::NotFound && self.count() > 0 => {
                    String::new()
                }
                read => {
                    read.map_err(|error| format!("{} cannot be read: {error}", file.display()))?
                }
            },
            None => String::new(),
        };
        let (mut entries, mut wrong): (Vec<KnownKey>, Vec<String>) = (Vec::new(), Vec::new());
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
            match read(line, &self.calculations) {
                // Two keys of one name are good while one takes the other's place.
                Ok(entry) => match entries.iter().find(|other| other.hash == entry.hash) {
                    None => entries.push(entry),
                    Some(other) => {
                        wrong.push(format!(
                            "{place}: this is the key of {} already.",
                            other.holder.name
                        ));
                    }
                },
                Err(why) => wrong.push(format!("{place}: {why}")),
            }
        }
        Ok(ReadKeys { entries, wrong })
    }

    /// The holder of the key in an `Authorization` header.
    #[must_use]
    pub fn holder_by_header(&self, authorization: Option<&[u8]>) -> Option<Holder> {
        let (scheme, key) = authorization?.split_at_checked("Bearer ".len())?;
        scheme.eq_ignore_ascii_case(b"Bearer ").then(|| self.holder(key.trim_ascii()))?
    }

    /// The holder of a key. The time taken does not depend on which key it is or whether it is valid.
    #[must_use]
    pub fn holder(&self, key: &[u8]) -> Option<Holder> {
        let hash = hash(key);
        let entries = self.entries();
        let (mut found, mut place) = (Choice::from(0), 0_u64);
        for (number, entry) in (0_u64..).zip(entries.iter()) {
            let same = entry.hash.ct_eq(&hash);
            place.conditional_assign(&number, same);
            found |= same;
        }
        let place = usize::try_from(place).ok()?;
        bool::from(found).then(|| entries.get(place).map(|entry| entry.holder.clone()))?
    }

    /// What each key is for, in a line.
    #[must_use]
    pub fn in_words(&self) -> Vec<String> {
        let line = |KnownKey { holder: Holder { name, reads }, .. }: &KnownKey| match reads {
            None => format!("key {name}: in a header"),
            Some(reads) => {
                format!("key {name}: in an address too, to read only {}", reads.join(", "))
            }
        };
        self.entries().iter().map(line).collect()
    }

    fn entries(&self) -> Arc<[KnownKey]> {
        Arc::clone(&self.entries.read().unwrap_or_else(PoisonError::into_inner))
    }

    /// The file of keys.
    #[must_use]
    pub fn file(&self) -> Option<&PathBuf> {
        self.file.as_ref()
    }
}

/// A new key that may stand in an address, and its line for the file of keys: it reads the
/// calculations in `reads`, of those in `known`.
pub fn new_address_key(
    name: &str,
    reads: &[String],
    known: &[&'static str],
) -> Result<(String, String), String> {
    for calculation in reads {
        calculation_named(calculation, known)?;
    }
    let (key, line) = new_key(name)?;
    Ok((key, format!("{line} {IN_ADDRESS} {}", reads.join(" "))))
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

fn calculation_named(name: &str, known: &[&'static str]) -> Result<&'static str, String> {
    let found = known.iter().find(|calculation| **calculation == name);
    found.copied().ok_or_else(|| {
        let detail = format!("there is no calculation {name:?}.");
        text_with_nearest(detail, name, known.iter().copied())
    })
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

fn read(line: &str, known: &[&'static str]) -> Result<KnownKey, String> {
    let mut words = line.split_whitespace();
    let (Some(name), Some(hash)) = (words.next(), words.next()) else {
        return Err(format!("expected a name, a space and {HASH} with 64 hexadecimal digits."));
    };
    check_name(name)?;
    let mut bytes: Hash = [0; 32];
    let digits = hash.strip_prefix(HASH);
    let digits = digits.ok_or_else(|| format!("the hash of {name} does not begin with {HASH}."))?;
    hex::decode_to_slice(digits, &mut bytes)
        .map_err(|_| format!("the hash of {name} is not 64 hexadecimal digits."))?;
    let reads = match words.next() {
        None => None,
        Some(IN_ADDRESS) => {
            let reads: Result<Vec<_>, _> =
                words.map(|calculation| calculation_named(calculation, known)).collect();
            Some(reads?).filter(|reads| !reads.is_empty()).map(Arc::from).map(Some).ok_or_else(
                || {
                    format!(
                        "the key {name} may stand in an address, for no calculation. Name those \
                         that it reads after {IN_ADDRESS}, such as top-up."
                    )
                },
            )?
        }
        Some(other) => {
            return Err(format!(
                "{other:?} stands after the hash of {name}. Only {IN_ADDRESS} and names of \
                 calculations may stand there."
            ));
        }
    };
    Ok(KnownKey { holder: Holder { name: name.into(), reads }, hash: bytes })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn keys(lines: &[&str]) -> Result<Keys, String> {
        let key_hashes = lines.iter().map(|line| (*line).to_owned()).collect();
        let configuration = Configuration { key_hashes, ..Configuration::default() };
        Keys::of(&configuration, &Services::new()).map(|keys| keys.expect("there are keys"))
    }

    #[test]
    fn a_key_is_known_by_its_hash_alone() {
        // FIPS 180-2, appendix B.1: the SHA-256 of "abc".
        let line =
            "press-shop sha256:ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        let (key, other) = new_key("mes").expect("a key");
        let keys = keys(&[line, &other]).expect("they are sound");
        let name = |header: &str| {
            let holder = keys.holder_by_header(Some(header.as_bytes()));
            holder.map(|holder| (holder.name.to_string(), holder.reads))
        };
        assert_eq!(name("Bearer abc"), Some(("press-shop".to_owned(), None)));
        assert_eq!(name("bearer  abc "), Some(("press-shop".to_owned(), None)));
        assert_eq!(name(&format!("Bearer {key}")), Some(("mes".to_owned(), None)));
        for wrong in ["Bearer abd", "Bearer ", "Bearer", "Basic abc", "abc", ""] {
            assert_eq!(name(wrong), None, "{wrong}");
        }
        assert_eq!(keys.holder_by_header(None), None);
    }

    #[test]
    fn a_key_for_addresses_says_what_it_reads() {
        let known = ["concentration", "top-up"];
        let wanted = ["top-up".to_owned(), "concentration".to_owned()];
        let (key, line) = new_address_key("cells", &wanted, &known).expect("a key");
        assert!(line.ends_with(" in_address top-up concentration"), "{line}");
        let keys = keys(&[&line]).expect("it is sound");
        let reads = keys.holder(key.as_bytes()).and_then(|holder| holder.reads);
        assert_eq!(reads.as_deref(), Some(["top-up", "concentration"].as_slice()));
        let words = "key cells: in an address too, to read only top-up, concentration";
        assert_eq!(keys.in_words(), [words]);
        let wrong = new_address_key("cells", &["topup".to_owned()], &known);
        let wrong = wrong.expect_err("there is none");
        assert!(wrong.ends_with("Did you mean \"top-up\"?"), "{wrong}");
    }

    /// While one key takes another's place, both are good under one name.
    #[test]
    fn a_name_may_have_two_keys() {
        let made = [new_key("mes").expect("a key"), new_key("mes").expect("a key")];
        let keys = keys(&[&made[0].1, &made[1].1]).expect("they are sound");
        for (key, _) in made {
            assert_eq!(&*keys.holder(key.as_bytes()).expect("a holder").name, "mes");
        }
    }

    #[test]
    fn what_is_wrong_with_a_line_is_said() {
        let zero = "0".repeat(64);
        for (lines, expected) in [
            (vec!["alone".to_owned()], "expected a name, a space"),
            (vec!["a md5:00".to_owned()], "does not begin with sha256:"),
            (vec!["a sha256:00".to_owned()], "not 64 hexadecimal digits"),
            (vec![format!("a/b sha256:{zero}")], "is not a valid name"),
            (vec![format!("a sha256:{zero}"), format!("b sha256:{zero}")], "the key of a already"),
            (vec!["# nobody".to_owned()], "nobody could use"),
            (vec![format!("a sha256:{zero} in_address")], "for no calculation"),
            (vec![format!("a sha256:{zero} in_address topup")], "Did you mean \"top-up\"?"),
            (vec![format!("a sha256:{zero} in-address top-up")], "Only in_address"),
        ] {
            let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
            let refused = keys(&lines).err().expect("it is wrong");
            assert!(refused.contains(expected), "{refused}");
        }
    }
}
