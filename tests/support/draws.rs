//! Random questions: any that fit the published schema, and some that a shop might ask.

use crate::spec;
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;
use proptest::test_runner::{RngAlgorithm, TestCaseResult, TestError, TestRng, TestRunner};
use serde_json::{Map, Number, Value, json};
use sumpwright_openapi::flat;
use sumpwright_openapi::service::Service;

/// Any document that fits a component of the published schema, without `uncertainty`:
/// its pointers must be drawn from the document itself, as the module that tests it
/// does.
pub(crate) fn any_document(component: &str) -> BoxedStrategy<Value> {
    let components = &spec()["components"]["schemas"];
    let mut schema = components[component].clone();
    if let Some(members) = schema["properties"].as_object_mut() {
        members.remove("uncertainty");
    }
    any_value(&schema, components)
}

fn any_value(schema: &Value, components: &Value) -> BoxedStrategy<Value> {
    if let Some(name) = schema["$ref"].as_str().and_then(|r| r.rsplit('/').next()) {
        return any_value(&components[name], components);
    }
    if let Some(branches) = schema["oneOf"].as_array().or(schema["anyOf"].as_array()) {
        let branches = branches.iter().filter(|branch| branch["type"] != "null");
        let branches: Vec<_> = branches.map(|branch| any_value(branch, components)).collect();
        return proptest::strategy::Union::new(branches).boxed();
    }
    if let Some(words) = schema["enum"].as_array() {
        return select(words.clone()).boxed();
    }
    let kind = match &schema["type"] {
        Value::Array(kinds) => kinds[0].as_str(),
        kind => kind.as_str(),
    };
    match kind {
        Some("number") => any_number(schema),
        Some("integer") => (0..50_u64).prop_map(Value::from).boxed(),
        Some("boolean") => any::<bool>().prop_map(Value::from).boxed(),
        // The only pattern is that of a property's name.
        Some("string") if schema["pattern"].is_string() => {
            select(vec!["tramp_oil", "solids", "fines"]).prop_map(Value::from).boxed()
        }
        Some("string") => {
            select(vec!["a", "lathe 3", "ä; \"x\", y", "[z]"]).prop_map(Value::from).boxed()
        }
        Some("array") => {
            vec(any_value(&schema["items"], components), 1..5).prop_map(Value::from).boxed()
        }
        Some("object") => any_object(schema, components),
        other => panic!("no way to draw a {other:?}: {schema}"),
    }
}

/// A number within its bounds: a round one, an ordinary one, or one at a bound.
fn any_number(schema: &Value) -> BoxedStrategy<Value> {
    let exclusive = schema["exclusiveMinimum"].as_f64();
    let least = exclusive.or(schema["minimum"].as_f64()).unwrap_or(-1e9);
    let most = schema["maximum"].as_f64().unwrap_or(1e9);
    let low = least.max(1e-6);
    let number = |x: f64| Number::from_f64(x).map_or(Value::Null, Value::Number);
    let ordinary = (low..=most.min(500.0).max(low)).prop_map(number);
    let any_size = (low.ln()..=most.ln()).prop_map(move |log| number(log.exp().clamp(low, most)));
    let edge = if exclusive.is_some() { most } else { least };
    prop_oneof![6 => ordinary, 2 => any_size, 1 => Just(number(edge))].boxed()
}

fn any_object(schema: &Value, components: &Value) -> BoxedStrategy<Value> {
    let beside = schema["allOf"].as_array().into_iter().flatten();
    let requiring = std::iter::once(schema).chain(beside);
    let required: Vec<Value> =
        requiring.filter_map(|part| part["required"].as_array().cloned()).flatten().collect();
    let mut members: Vec<BoxedStrategy<Option<(String, Value)>>> = Vec::new();
    for (name, member) in schema["properties"].as_object().into_iter().flatten() {
        let (name, value) = (name.clone(), any_value(member, components));
        let needed = required.contains(&json!(name));
        let named = value.prop_map(move |value| (name.clone(), value));
        members.push(if needed {
            named.prop_map(Some).boxed()
        } else {
            option::weighted(0.4, named).boxed()
        });
    }
    if schema["additionalProperties"].is_object() {
        let value = any_value(&schema["additionalProperties"], components);
        let names = select(vec!["hardness", "chloride", "nitrite"]);
        let named = (names, value).prop_map(|(name, value)| (name.to_owned(), value));
        members.push(option::of(named).boxed());
    }
    let object = members.prop_map(|members| Value::Object(members.into_iter().flatten().collect()));
    // An object without members has no flat form.
    object.prop_filter("says something", |object| object != &Value::Object(Map::new())).boxed()
}

/// The example of a calculation, for hundreds of questions like it: a plan over half a year is one over eight weeks, which is
/// looked for in a sixth of the time.
pub(crate) fn to_draw_from(service: &Service) -> Value {
    let mut example: Value = serde_json::from_str(service.example).expect("an example is JSON");
    if let Some(weeks) = example.get_mut("weeks") {
        *weeks = json!(8);
    }
    example
}

/// Documents like `example` with every measured number changed by up to a
/// tenth.
pub(crate) fn near(example: &Value) -> BoxedStrategy<Value> {
    within(example, 0.1)
}

/// The same within a fiftieth: what is nearly full stays so.
pub(crate) fn nearer(example: &Value) -> BoxedStrategy<Value> {
    within(example, 0.02)
}

fn within(example: &Value, share: f64) -> BoxedStrategy<Value> {
    let leaves = flat::flatten(example);
    let numbers = leaves.iter().filter(|(_, leaf)| leaf.is_number()).count();
    let example = example.clone();
    vec(1.0 - share..1.0 + share, numbers)
        .prop_map(move |factors| {
            let mut changed = example.clone();
            scale(&mut changed, &mut factors.into_iter());
            changed
        })
        .boxed()
}

/// Multiplies the numbers of a document, except small whole numbers, which may be
/// counts, the 100 of neat concentrate, hour meters, which like a date only
/// increase, and weeks, which are whole.
fn scale(value: &mut Value, factors: &mut impl Iterator<Item = f64>) {
    match value {
        Value::Number(number) => {
            let factor = factors.next().unwrap_or(1.0);
            let counts = number.as_u64().is_some_and(|whole| whole < 10 || whole == 100);
            let scaled = number.as_f64().and_then(|x| Number::from_f64(x * factor));
            if let Some(scaled) = scaled.filter(|_| !counts) {
                *number = scaled;
            }
        }
        Value::Array(entries) => entries.iter_mut().for_each(|entry| scale(entry, factors)),
        Value::Object(members) => members
            .iter_mut()
            .filter(|(name, _)| !["running_hours", "weeks"].contains(&name.as_str()))
            .for_each(|(_, member)| scale(member, factors)),
        _ => {}
    }
}

/// Checks a law on this number of questions, which are the same every time.
pub(crate) fn held(
    cases: u32,
    questions: impl Strategy<Value = Value>,
    law: impl Fn(Value) -> TestCaseResult,
) -> Result<(), TestError<Value>> {
    let config = ProptestConfig { cases, failure_persistence: None, ..Default::default() };
    let rng = TestRng::deterministic_rng(RngAlgorithm::default());
    TestRunner::new_with_rng(config, rng).run(&questions, law)
}

/// A realistic and feasible top-up: draining is allowed, and neat concentrate and water are
/// available.
pub(crate) fn feasible_top_up() -> impl Strategy<Value = Value> {
    let sump = (1.0..5000.0_f64, 0.0..=1.0_f64, 0.0..20.0_f64, 0.5..3.0_f64);
    let target = (0.0..20.0_f64, option::of(0.1..=1.0_f64));
    (sump, target, any::<bool>()).prop_map(|((capacity, fill, strength, factor), target, read)| {
        let volume = capacity * fill;
        let mut sump = json!({ "capacity": capacity, "volume": volume });
        if read {
            let brix = strength / factor;
            sump["reading"] = json!({ "method": "refractometer", "brix": brix, "factor": factor });
        } else {
            sump["concentration"] = strength.into();
        }
        let mut wanted = json!({ "concentration": target.0 });
        if let Some(share) = target.1 {
            wanted["volume"] = (capacity * share).into();
        }
        json!({ "units": "metric", "sump": sump, "target": wanted, "draining": "to_target" })
    })
}

/// A feasible blend of stocks: the first is too weak and the second too strong.
pub(crate) fn feasible_blend() -> impl Strategy<Value = Value> {
    let stock =
        |strengths: std::ops::Range<f64>| (strengths, option::of(0.01..9.0), option::of(0.8..1.2));
    let others = vec((stock(0.0..100.0), option::of(1.0..400.0_f64)), 0..4);
    (1.0..3000.0, 2.0..20.0, stock(0.0..2.0), stock(20.0..100.0), others).prop_map(
        |(volume, strength, weak, strong, others)| {
            let entry = |i: usize, stock: (f64, Option<f64>, Option<f64>)| {
                let mut entry = json!({ "name": format!("stock {i}"), "concentration": stock.0 });
                if let Some(cost) = stock.1 {
                    entry["unit_cost"] = cost.into();
                }
                if let Some(density) = stock.2 {
                    entry["density"] = density.into();
                }
                entry
            };
            let mut stocks = vec![entry(0, weak), entry(1, strong)];
            for (i, (stock, on_hand)) in others.into_iter().enumerate() {
                let mut entry = entry(i + 2, stock);
                if let Some(on_hand) = on_hand {
                    entry["volume"] = on_hand.into();
                }
                stocks.push(entry);
            }
            let target = json!({ "volume": volume, "concentration": strength });
            json!({ "units": "metric", "target": target, "stocks": stocks })
        },
    )
}
