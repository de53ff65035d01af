//! The limits of a single value: its words, bounds, length and pattern.

use super::schemas::Way;
use serde_json::Value;

/// The values that `inner` allows and `outer` does not, judged by the keywords for a
/// single value.
pub(super) fn misfits(way: Way, inner: &Value, outer: &Value) -> Vec<String> {
    let mut found = words(way, inner, outer);
    let narrower =
        |keyword: &str| way.say(&format!("{keyword} is narrower"), &format!("{keyword} is wider"));
    if !lower(outer).is_none_or(|theirs| lower(inner).is_some_and(|own| own.within(&theirs))) {
        found.push(narrower("minimum"));
    }
    if !upper(outer).is_none_or(|theirs| upper(inner).is_some_and(|own| own.within(&theirs))) {
        found.push(narrower("maximum"));
    }
    for keyword in ["minLength", "minItems", "minProperties"] {
        let least = |schema: &Value| schema[keyword].as_u64().unwrap_or(0);
        if least(inner) < least(outer) {
            found.push(narrower(keyword));
        }
    }
    for keyword in ["maxLength", "maxItems", "maxProperties"] {
        let most = |schema: &Value| schema[keyword].as_u64().unwrap_or(u64::MAX);
        if most(inner) > most(outer) {
            found.push(narrower(keyword));
        }
    }
    if outer.get("pattern").is_some() && inner.get("pattern") != outer.get("pattern") {
        found.push("pattern is not what it was".to_owned());
    }
    found
}

fn words(way: Way, inner: &Value, outer: &Value) -> Vec<String> {
    let Some(theirs) = outer["enum"].as_array() else { return Vec::new() };
    let Some(own) = inner["enum"].as_array() else {
        return vec![way.say("only some words are taken now", "any word may come now")];
    };
    let strange = own.iter().filter(|word| !theirs.contains(word));
    let said = strange.map(|word| {
        way.say(
            &format!("the word {word} is no longer taken"),
            &format!("the word {word} may come now"),
        )
    });
    said.collect()
}

/// An end of a range, as a number that increases as the range narrows.
struct End {
    at: f64,
    excluded: bool,
}

impl End {
    fn within(&self, outer: &Self) -> bool {
        self.at > outer.at || (self.at == outer.at && (self.excluded || !outer.excluded))
    }
}

fn lower(schema: &Value) -> Option<End> {
    end(schema, "minimum", "exclusiveMinimum", 1.0)
}

fn upper(schema: &Value) -> Option<End> {
    end(schema, "maximum", "exclusiveMaximum", -1.0)
}

fn end(schema: &Value, included: &str, excluded: &str, sign: f64) -> Option<End> {
    let included = schema[included].as_f64().map(|at| End { at: sign * at, excluded: false });
    let excluded = schema[excluded].as_f64().map(|at| End { at: sign * at, excluded: true });
    match (included, excluded) {
        (Some(one), Some(other)) => Some(if one.within(&other) { one } else { other }),
        (one, other) => one.or(other),
    }
}
