//! What a record is given besides, on request, so that it can be filed and read by other programs.
//!
//! **Digests.** The question's is the SHA-256 of its canonical form (RFC 8785): of the same members and numbers,
//! however they were written and whether they came as a document or as an address. The answer's goes
//! in the header `Content-Digest` (RFC 9530), over the bytes as they are sent, which are then not packed.
//!
//! **Unit codes.** For each number of the record its unit by UCUM and by UN/ECE Recommendation 20, where these have
//! one; money has neither.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use serde_json::{Map, Value, json};
use sha2::{Digest, Sha256};
use sumpwright_engine::VERSION;
use sumpwright_engine::quantity::Row;
use sumpwright_openapi::envelope::units_of;
use sumpwright_openapi::service::Service;

/// What is asked for besides the record.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Besides {
    /// The codes of the units of its numbers.
    pub units: bool,
    /// The digests of question and answer.
    pub digests: bool,
}

/// The words of the option, in the order of the members above.
pub(crate) const WORDS: [&str; 2] = ["units", "digests"];

/// Codes of UN/ECE Recommendation 20 (revision 17) for those of UCUM, from memory. What is missing has none there.
const RECOMMENDATION_20: [(&str, &str); 34] = [
    ("L", "LTR"),
    ("[gal_us]", "GLL"),
    ("mL", "MLT"),
    ("kg", "KGM"),
    ("[lb_av]", "LBR"),
    ("kg/L", "B35"),
    ("[lb_av]/[gal_us]", "GE"),
    ("Cel", "CEL"),
    ("[degF]", "FAH"),
    ("L/min", "L2"),
    ("[gal_us]/min", "G2"),
    ("L/h", "E32"),
    ("[gal_us]/h", "G50"),
    ("L/d", "LD"),
    ("[gal_us]/d", "GB"),
    ("mm", "MMT"),
    ("[in_i]", "INH"),
    ("um", "4H"),
    ("min", "MIN"),
    ("h", "HUR"),
    ("d", "DAY"),
    ("wk", "WEE"),
    ("mo", "MON"),
    ("a", "ANN"),
    ("%", "P1"),
    ("mg/L", "M1"),
    ("mg/d", "F32"),
    ("kg/h", "E93"),
    ("[lb_av]/h", "4M"),
    ("mPa.s", "C24"),
    ("m2", "MTK"),
    ("[ft_i]2", "FTK"),
    ("kW", "KWT"),
    ("1", "C62"),
];

impl Besides {
    /// Whether anything is.
    #[must_use]
    pub const fn any(self) -> bool {
        self.units || self.digests
    }

    /// Adds to a record, the answer to `question`, what is asked for.
    pub(crate) fn add(self, record: &mut Value, question: &Value, service: &Service) {
        if self.units {
            record["unit_codes"] = unit_codes(record, service);
        }
        if self.digests {
            let service = match crate::COMMIT {
                Some(commit) => format!("{VERSION}+{commit}"),
                None => VERSION.to_owned(),
            };
            record["digests"] = json!({ "question": of_question(question), "service": service });
        }
    }
}

/// The digest of a question's canonical form, as a field of RFC 9530 writes one.
fn of_question(question: &Value) -> String {
    // Nothing that was read from JSON is no JSON.
    digest_of(&serde_json_canonicalizer::to_vec(question).unwrap_or_default())
}

/// The digest of what is sent: the value of `Content-Digest`.
#[must_use]
pub fn digest_of(bytes: &[u8]) -> String {
    format!("sha-256=:{}:", STANDARD.encode(Sha256::digest(bytes)))
}

/// The codes of each number of a record, by its JSON pointer.
fn unit_codes(record: &Value, service: &Service) -> Value {
    let Some(units) = units_of(record) else { return json!({}) };
    let numbers = service.record.numbers(record);
    let coded = numbers.into_iter().filter_map(|(pointer, row, _)| {
        let codes = codes(row.units.in_system(units).code, row)?;
        Some((pointer.as_str().to_owned(), codes))
    });
    coded.collect::<Map<String, Value>>().into()
}

fn codes(code: &'static str, row: &Row) -> Option<Value> {
    let of_rec_20 = RECOMMENDATION_20.iter().find(|(ucum, _)| *ucum == code).map(|(_, code)| *code);
    let mut codes = Map::new();
    match code {
        // UCUM has no unit for it; Recommendation 20 has.
        "°Brix" => return Some(json!({ "rec20": "J18" })),
        // Money, and numbers whose unit is that of another one.
        code if code.contains("currency") || code.contains(' ') => return None,
        code => codes.insert("ucum".to_owned(), code.into()),
    };
    // A share and a strength are both per cent; what they are of says `x-quantity`.
    codes.insert("quantity".to_owned(), row.name.into());
    codes.extend(of_rec_20.map(|code| ("rec20".to_owned(), Value::from(code))));
    Some(codes.into())
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;
    use sumpwright_engine::quantity::{TABLE, UnitSystem};

    /// The example of RFC 8785, 3.2.3, and the digest of RFC 9530, appendix D, of a body it gives.
    #[test]
    fn digests_are_those_that_the_standards_give() {
        let given = r#"{"peach":"This sorting order","péché":"is wrong according to French","pêche":"but canonicalization MUST","sin":"ignore locale"}"#;
        let read: Value = serde_json::from_str(given).expect("JSON");
        let written = serde_json_canonicalizer::to_string(&read).expect("it is canonical");
        assert_eq!(written, given);
        let numbers = json!({ "b": [56.0, 1e30, 4.5, 2e-3, 1e-27], "a": "\u{20ac}$" });
        let written = serde_json_canonicalizer::to_string(&numbers).expect("it is canonical");
        assert_eq!(written, "{\"a\":\"\u{20ac}$\",\"b\":[56,1e+30,4.5,0.002,1e-27]}");
        let body = b"{\"hello\": \"world\"}\n";
        assert_eq!(digest_of(body), "sha-256=:RK/0qy18MlBSVnWgjwz6lZEWjP/lF5HF9bvEF8FabDg=:");
    }

    #[test]
    fn every_code_is_of_a_unit_that_there_is_and_stands_once() {
        let units: BTreeSet<&str> = TABLE
            .iter()
            .flat_map(|row| {
                [UnitSystem::Metric, UnitSystem::Us].map(|of| row.units.in_system(of).code)
            })
            .collect();
        let mut seen = BTreeSet::new();
        for (ucum, code) in RECOMMENDATION_20 {
            assert!(units.contains(ucum), "{ucum}");
            assert!(seen.insert(code), "{code} stands twice");
            assert!((2..=3).contains(&code.len()), "{code}");
        }
    }
}
