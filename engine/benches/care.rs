//! What the care of fluid takes where a shop is large or everything about a sump is known. By their
//! examples the same calculations are among the others, and so is a dose.

use criterion::Criterion;
use serde_json::{Value, json};
use std::hint::black_box;
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::calculations::shop::test_plan::TestPlan;
use sumpwright_engine::calculations::sump::condition::Condition;
use sumpwright_engine::calculations::sump::water::Water;

/// A sump of which everything was observed.
fn well_known_sump() -> Condition {
    let mut document: Value = serde_json::from_str(Condition::EXAMPLE).expect("JSON");
    let more = json!({
        "fungi": { "growth": "slight" }, "nitrate_of_water": 30, "hardness": { "content": 240 },
        "temperature": 27, "days_standing": 1, "skin_complaints": false,
    });
    let members = document.as_object_mut().expect("an object");
    members.extend(more.as_object().expect("an object").clone());
    members.retain(|name, _| name != "units" && name != "reference");
    serde_json::from_value(document).expect("a question")
}

/// Fifty waters into windows of hardness, chloride, sulphate and nitrate, at least cost.
fn many_waters() -> Water {
    let waters = (0..50_u32).map(|i| {
        json!({
            "name": format!("water {i}"),
            "hardness": { "value": f64::from(i * 7 % 25), "unit": "german_degrees" },
            "properties": {
                "chloride": 2 + 11 * (i % 9), "sulphate": 4 + 13 * (i * 5 % 11), "nitrate": 1 + i * 3 % 40,
            },
            "volume": 30 + 9 * (i % 13),
            "unit_cost": 0.002 + 0.0007 * f64::from(i * 11 % 17),
        })
    });
    serde_json::from_value(json!({
        "waters": waters.collect::<Value>(),
        "make": 900,
        "hardness": { "min": 6, "max": 9, "unit": "german_degrees" },
        "limits": {
            "chloride": { "max": 40 }, "sulphate": { "max": 60 }, "nitrate": { "max": 25 },
        },
    }))
    .expect("a question")
}

/// Ten thousand machines, of which most tests were done at some time.
fn large_hall() -> TestPlan {
    let day = |i: u32| format!("2026-11-{:02}", 1 + i % 28);
    let machines = (0..10_000_u32).map(|i| {
        json!({
            "name": format!("machine {i}"), "looked_at": day(i), "strength_on": day(i * 3),
            "ph_on": day(i * 5), "nitrite_on": day(i * 11), "nitrite": [i % 15, i % 7, 3],
            "slide_on": day(i * 13), "slide_count": 100 * (i % 400), "cleaned_on": "2026-03-02",
        })
    });
    let question = json!({ "today": "2026-11-30", "machines": machines.collect::<Value>() });
    serde_json::from_value(question).expect("a question")
}

fn measured<C: Calculation>(criterion: &mut Criterion, name: &str, question: &C) {
    assert!(question.calculate().is_ok(), "{name} of {} has no answer", C::NAME);
    let mut group = criterion.benchmark_group(C::NAME);
    group.bench_function(name, |bench| bench.iter(|| black_box(question).calculate()));
    group.finish();
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    measured(&mut criterion, "all observed", &well_known_sump());
    measured(&mut criterion, "50 waters, 4 limits", &many_waters());
    measured(&mut criterion, "10,000 machines", &large_hall());
    criterion.final_summary();
}
