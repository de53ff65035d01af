//! Every picture of every example at several widths: no text outside, none over another.

mod drawing;

use drawing::{Drawn, assert_sound};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::sync::LazyLock;
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_openapi::service::{Service, Services};
use sumpwright_render::{Manner, pictures, svg};

static SERVICES: LazyLock<Services> = LazyLock::new(Services::new);

/// A narrow phone, a tablet and a sheet of paper.
const WIDTHS: [u16; 4] = [280, 360, 720, 1060];

fn example(service: &Service) -> Value {
    serde_json::from_str(service.example).expect("JSON")
}

/// Draws a document at every width and looks at each drawing.
fn look_at(service: &Service, document: &Value, what: &str) -> Vec<Drawn> {
    let to_draw = service.pictures(document.to_string().as_bytes());
    let to_draw = to_draw.unwrap_or_else(|problem| panic!("{what}: {}", problem.detail));
    let each = WIDTHS.into_iter().map(|width| {
        let manner = Manner { width, decimal_comma: width == 360 };
        let drawn = Drawn::read(&svg(&to_draw, manner));
        assert_sound(&drawn, f64::from(width), &format!("{what} at {width}"));
        for own in pictures(&to_draw, manner) {
            let alone = Drawn::read(&own.svg);
            assert!(!alone.texts.is_empty() && !own.title.is_empty(), "{what}");
        }
        drawn
    });
    each.collect()
}

fn with_pictures() -> impl Iterator<Item = &'static Service> {
    SERVICES.iter().map(|service| &**service).filter(|service| service.has_pictures())
}

#[test]
fn every_example_is_drawn_without_fault_in_both_systems_of_units() {
    let mut seen = 0;
    for service in with_pictures() {
        let metric = example(service);
        look_at(service, &metric, service.name);
        let mut us = metric.clone();
        service.question.from_metric(&mut us, UnitSystem::Us);
        us["units"] = "us".into();
        let drawn = look_at(service, &us, &format!("{} in US units", service.name));
        let words = drawn[2].texts.iter().flat_map(|text| text.content.split([' ', '\u{a0}', ',']));
        let metric: Vec<&str> =
            words.filter(|word| ["L", "kg", "mm", "L/h", "kg/L"].contains(word)).collect();
        assert!(metric.is_empty(), "{}: {metric:?}", service.name);
        seen += 1;
    }
    assert!(seen > 10, "{seen} calculations have pictures");
}

/// Replaces every name that a caller gave, each by one of its own.
fn rename(value: &mut Value, names: &BTreeMap<String, String>) {
    match value {
        Value::String(text) => {
            if let Some(other) = names.get(text) {
                other.clone_into(text);
            }
        }
        Value::Array(entries) => entries.iter_mut().for_each(|entry| rename(entry, names)),
        Value::Object(members) => members.values_mut().for_each(|member| rename(member, names)),
        _ => {}
    }
}

fn names_in(value: &Value, found: &mut Vec<String>) {
    const CALLED: [&str; 4] = ["name", "product", "currency", "reference"];
    match value {
        Value::Array(entries) => entries.iter().for_each(|entry| names_in(entry, found)),
        Value::Object(members) => {
            for (member, value) in members {
                match value.as_str().filter(|_| CALLED.contains(&member.as_str())) {
                    Some(name) => found.push(name.to_owned()),
                    None => names_in(value, found),
                }
            }
        }
        _ => {}
    }
}

#[test]
fn hostile_names_do_no_harm() {
    let shapes: [fn(usize) -> String; 4] = [
        |i| format!("{i} <b>&amp; \"quotes\" 'and' ]]> --> &#x0; </text></svg>"),
        |i| format!("{i}{}", "W".repeat(90)),
        |i| format!("{i} {}", "a long name of several words ".repeat(3).trim()),
        |i| format!("{i} 漢字とかな交じりの名前 ÄÖÜ ß é \u{1F600}\u{1F600} \u{202e}abc"),
    ];
    for service in with_pictures() {
        for (s, shape) in shapes.into_iter().enumerate() {
            let mut document = example(service);
            let mut found = Vec::new();
            names_in(&document, &mut found);
            let names: BTreeMap<String, String> =
                found.into_iter().enumerate().map(|(i, name)| (name, shape(i))).collect();
            rename(&mut document, &names);
            look_at(service, &document, &format!("{}, names of shape {s}", service.name));
        }
    }
}

#[test]
fn many_stocks_in_a_tank_are_named_or_left_out() {
    let blend = SERVICES.get("blend").expect("it is served");
    for count in [1, 2, 9, 40] {
        let water = json!({ "name": "water", "concentration": 0 });
        let premixes = (0..count).map(|i| {
            json!({ "name": format!("recycled fluid from line {i}"), "concentration": 8,
                    "volume": 1.0 + f64::from(i), "unit_cost": 0.01,
                    "properties": { (format!("salt_{i}")): 10 } })
        });
        let stocks: Vec<Value> = premixes.chain([water]).collect();
        let limits: serde_json::Map<String, Value> =
            (0..count).map(|i| (format!("salt_{i}"), json!({ "max": 50 + i }))).collect();
        let on_hand = f64::from(count) * f64::from(count + 1) / 2.0;
        let document = json!({
            "units": "metric", "stocks": stocks, "limits": limits,
            "target": { "volume": on_hand * 1.2, "concentration": 8.0 / 1.2 },
        });
        look_at(blend, &document, &format!("a batch of {count} stocks"));
    }
}

/// What is next to nothing, and what is more than anybody has.
#[test]
fn tiny_and_huge_amounts_are_drawn() {
    let top_up = SERVICES.get("top-up").expect("it is served");
    for (capacity, volume, c) in
        [(1e9, 1.0, 5.0), (0.001, 0.0, 5.0), (200.0, 200.0, 8.0), (5e5, 4e5, 0.0)]
    {
        let document = json!({
            "units": "metric",
            "sump": { "capacity": capacity, "volume": volume, "concentration": c },
            "target": { "concentration": 8 }, "band": { "low": 7.9999, "high": 8.0001 },
        });
        look_at(top_up, &document, &format!("{volume} of {capacity}"));
    }
    let forecast = SERVICES.get("forecast").expect("it is served");
    for days in [1, 60, 3660] {
        let mut document = example(forecast);
        document["days"] = days.into();
        document["changes"] = Value::Null;
        look_at(forecast, &document, &format!("{days} days"));
    }
    let sump = SERVICES.get("sump-volume").expect("it is served");
    for depth in [8.0, 200.0, 401.0, 5000.0] {
        let document = json!({ "units": "metric", "shape": {
            "compartments": [{ "form": "box", "length": 900, "width": 500, "depth": depth }],
            "level": depth * 0.8,
        } });
        look_at(sump, &document, &format!("{depth} mm deep"));
    }
}

/// A ruler is as long as it says: lines of its strips lie 5 mm, or a quarter of an inch, apart.
#[test]
fn a_ruler_is_in_its_true_size() {
    let sump = SERVICES.get("sump-volume").expect("it is served");
    let to_draw = sump.pictures(sump.example.as_bytes()).expect("pictures");
    let drawn = pictures(&to_draw, Manner::default());
    let ruler = drawn.iter().find(|own| own.in_true_size).expect("a ruler");
    let number = |name: &str| -> f64 {
        let (_, rest) = ruler.svg.split_once(&format!("{name}=\"")).expect("the attribute");
        let (value, _) = rest.split_once('"').expect("its end");
        value.trim_end_matches("mm").parse().expect("a number")
    };
    let view = ruler.svg.split("viewBox=\"0 0 ").nth(1).expect("a view box");
    let across: f64 = view.split(' ').next().and_then(|w| w.parse().ok()).expect("a width");
    assert!((number("width") / across - 25.4 / 96.0).abs() < 1e-5, "CSS has 96 pixels an inch");
    // The bar to check it by is as long as the words beside it say.
    assert!(ruler.svg.contains("100\u{a0}mm long"), "{}", ruler.svg);
    let bars = drawing::horizontals(&ruler.svg);
    assert!(bars.iter().any(|length| (length * 25.4 / 96.0 - 100.0).abs() < 0.01), "{bars:?}");
}

/// The ways that are compared, and which overtakes which, are read in full on a phone.
#[test]
fn on_a_phone_no_name_of_a_comparison_is_cut() {
    let mut services = with_pictures();
    let service = services.find(|own| own.name == "cost-comparison").expect("a comparison");
    for drawn in &look_at(service, &example(service), "a comparison")[..2] {
        let texts = drawn.texts.iter().map(|text| &text.content);
        let cut: Vec<_> = texts.filter(|text| text.contains('…')).collect();
        assert!(cut.is_empty(), "{cut:?}");
        assert!(drawn.texts.len() > 40, "{} texts", drawn.texts.len());
    }
}
