//! Whether every operation of one document still accepts the requests of another.

use super::schemas::{Break, Comparison, Way, between, resolve, unchanged};
use super::units;
use serde_json::Value;
use std::collections::BTreeSet;

const METHODS: [&str; 8] = ["get", "put", "post", "delete", "options", "head", "patch", "trace"];

/// The differences that callers of the `released` document would notice in the one `now`.
pub(super) fn breaks(released: &Value, now: &Value) -> Vec<Break> {
    let (unchanged, questions) = (unchanged(released, now), questions(released));
    let (unchanged, questions) = (&unchanged, &questions);
    let found = units::breaks(released, now);
    let mut documents = Documents { released, now, unchanged, questions, found };
    for (path, item) in members(&released["paths"]) {
        for method in METHODS {
            if item.get(method).is_some() {
                documents.operation(path, method);
            }
        }
    }
    documents.found
}

struct Documents<'a> {
    released: &'a Value,
    now: &'a Value,
    unchanged: &'a BTreeSet<String>,
    questions: &'a BTreeSet<&'a str>,
    found: Vec<Break>,
}

impl Documents<'_> {
    fn note(&mut self, place: &str, what: &str) {
        self.found.push(Break { place: place.to_owned(), what: what.to_owned() });
    }

    fn operation(&mut self, path: &str, method: &str) {
        let place = format!("{} {path}", method.to_uppercase());
        let released = &self.released["paths"][path];
        let now = &self.now["paths"][path];
        let (before, after) = (&released[method], &now[method]);
        if after.is_null() {
            return self.note(&place, "the operation is gone");
        }
        if before["operationId"] != after["operationId"] {
            self.note(&place, "the operationId is not what it was");
        }
        self.parameters(
            &place,
            &parameters(self.released, released, before),
            &parameters(self.now, now, after),
        );
        self.request(&place, &before["requestBody"], &after["requestBody"]);
        self.responses(&place, &before["responses"], &after["responses"]);
        self.security(&place, before, after);
    }

    fn parameters(&mut self, place: &str, released: &[&Value], now: &[&Value]) {
        for before in released {
            let place = format!("{place}, {} {}", text(before, "in"), text(before, "name"));
            match now.iter().find(|after| is_same_parameter(before, after)) {
                None => self.note(&place, "the parameter is gone"),
                Some(after) => {
                    if after["required"] == true && before["required"] != true {
                        self.note(&place, "it is newly required");
                    }
                    if before["allowEmptyValue"] == true && after["allowEmptyValue"] != true {
                        self.note(&place, "it may no longer be blank");
                    }
                    self.schemas(Way::Sent, &place, &before["schema"], &after["schema"]);
                }
            }
        }
        for after in now {
            let known = released.iter().any(|before| is_same_parameter(before, after));
            if after["required"] == true && !known {
                let place = format!("{place}, {} {}", text(after, "in"), text(after, "name"));
                self.note(&place, "it is newly required");
            }
        }
    }

    fn request(&mut self, place: &str, released: &Value, now: &Value) {
        let place = format!("{place}, request");
        let (before, after) = (resolve(self.released, released), resolve(self.now, now));
        if after["required"] == true && before["required"] != true {
            self.note(&place, "a body is newly required");
        }
        self.content(Way::Sent, &place, &before["content"], &after["content"]);
    }

    fn responses(&mut self, place: &str, released: &Value, now: &Value) {
        for (status, before) in members(released) {
            let place = format!("{place}, {status}");
            let Some(after) = now.get(status) else {
                self.note(&place, "the status is gone");
                continue;
            };
            let (before, after) = (resolve(self.released, before), resolve(self.now, after));
            self.content(Way::Received, &place, &before["content"], &after["content"]);
            self.headers(&place, &before["headers"], &after["headers"]);
        }
    }

    fn headers(&mut self, place: &str, released: &Value, now: &Value) {
        for (name, before) in members(released) {
            let place = format!("{place}, header {name}");
            let alike = members(now).find(|(theirs, _)| theirs.eq_ignore_ascii_case(name));
            let Some((_, after)) = alike else {
                self.note(&place, "the header is gone");
                continue;
            };
            let (before, after) = (resolve(self.released, before), resolve(self.now, after));
            if before["required"] == true && after["required"] != true {
                self.note(&place, "it is no longer always there");
            }
            self.schemas(Way::Received, &place, &before["schema"], &after["schema"]);
        }
    }

    fn content(&mut self, way: Way, place: &str, released: &Value, now: &Value) {
        for (media_type, before) in members(released) {
            let place = format!("{place} {media_type}");
            // An example of a request must remain valid.
            let is_question = self.questions.contains(text(&before["schema"], "$ref"));
            let way = if is_question { Way::Sent } else { way };
            match now.get(media_type) {
                None => self.note(&place, "the media type is gone"),
                Some(after) => self.schemas(way, &place, &before["schema"], &after["schema"]),
            }
        }
    }

    fn schemas(&mut self, way: Way, place: &str, released: &Value, now: &Value) {
        let Self { released: before, now: after, unchanged, .. } = *self;
        let documents = Comparison { way, released: before, now: after, unchanged };
        self.found.extend(between(&documents, place, released, now));
    }

    /// Every caller that had access must still have it.
    fn security(&mut self, place: &str, before: &Value, after: &Value) {
        let now = ways_in(self.now, after);
        for had in ways_in(self.released, before) {
            if !now.iter().any(|needs| needs.iter().all(|need| had.contains(need))) {
                let nothing = "a key is newly required";
                self.note(
                    place,
                    if had.is_empty() { nothing } else { "the key is not what it was" },
                );
            }
        }
    }
}

/// The schemas of requests, which an answer may show an example of.
fn questions(document: &Value) -> BTreeSet<&str> {
    let posted = "/post/requestBody/content/application~1json/schema/$ref";
    let items = members(&document["paths"]).map(|(_, item)| item);
    items.filter_map(|item| item.pointer(posted)?.as_str()).collect()
}

/// The ways of access: each entry has all that one way needs, every scheme given by
/// its definition and not by its name.
fn ways_in(document: &Value, operation: &Value) -> Vec<Vec<Value>> {
    let said = operation.get("security").or_else(|| document.get("security"));
    let ways = said.and_then(Value::as_array).filter(|ways| !ways.is_empty());
    let needs = |way: &Value| {
        let schemes = members(way).map(|(name, scopes)| {
            let mut scheme = document["components"]["securitySchemes"][name].clone();
            scheme["description"] = Value::Null;
            serde_json::json!([scheme, scopes])
        });
        schemes.collect()
    };
    ways.map_or_else(|| vec![Vec::new()], |ways| ways.iter().map(needs).collect())
}

/// The parameters of an operation, with those of its path.
fn parameters<'a>(document: &'a Value, item: &'a Value, operation: &'a Value) -> Vec<&'a Value> {
    let all = [operation, item].into_iter().filter_map(|holder| holder["parameters"].as_array());
    let mut found: Vec<&Value> = Vec::new();
    for parameter in all.flatten().map(|parameter| resolve(document, parameter)) {
        if !found.iter().any(|known| is_same_parameter(known, parameter)) {
            found.push(parameter);
        }
    }
    found
}

fn is_same_parameter(one: &Value, other: &Value) -> bool {
    let same_name = if one["in"] == "header" {
        text(one, "name").eq_ignore_ascii_case(text(other, "name"))
    } else {
        one["name"] == other["name"]
    };
    one["in"] == other["in"] && same_name
}

fn text<'a>(value: &'a Value, name: &str) -> &'a str {
    value[name].as_str().unwrap_or_default()
}

fn members(value: &Value) -> impl Iterator<Item = (&String, &Value)> {
    value.as_object().into_iter().flatten()
}
