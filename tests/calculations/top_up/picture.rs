//! The picture of the tank before and after.

use crate::server::request;
use reqwest::blocking::Response;
use serde_json::json;

/// Four tanks beside each other on a phone left no room for "concentrate", which was broken.
#[test]
fn no_word_is_broken_where_four_tanks_are_drawn_on_a_phone() {
    let question = json!({
        "units": "metric",
        "sump": { "capacity": 1000, "volume": 1000, "concentration": 4.1 },
        "target": { "concentration": 8 },
        "draining": "allowed",
    });
    for width in ["280", "328", "720"] {
        let drawn = request("POST", &format!("/v1/top-up?format=svg&width={width}"))
            .json(&question)
            .send()
            .and_then(Response::text)
            .expect("a picture");
        let texts: Vec<&str> = drawn
            .split('<')
            .filter_map(|piece| piece.split_once('>'))
            .map(|(_, text)| text)
            .collect();
        for word in ["now", "drain", "pour in", "concentrate", "water", "after"] {
            assert!(texts.contains(&word), "{width}: no {word} in {texts:?}");
        }
    }
}
