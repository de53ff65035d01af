//! The statement of a recycler: whether it keeps up, and what to pour.

use super::{batch, example};
use crate::support::found;
use crate::support::units::in_us_units;
use crate::{number, service, solve};
use serde_json::{Value, json};

fn statement(question: &Value) -> String {
    let record = solve("recycler", question).expect("an answer");
    record["statement"].as_str().expect("a statement").to_owned()
}

/// The numbers before a word.
fn before(text: &str, word: &str) -> Vec<f64> {
    let parts: Vec<&str> = text.split(&format!(" {word}")).collect();
    let ends = parts[..parts.len() - 1].iter();
    ends.map(|part| part.rsplit([' ', '(']).next().expect("a word").parse().expect("a number"))
        .collect()
}

/// The recycler keeps up with the demo shop's week, and the batch is corrected in measured
/// amounts.
#[test]
fn the_week_is_stated() {
    assert_eq!(
        statement(&example()),
        "The recycler keeps up: all of the fluid is clean by day 4, 13:06, after 21.4 h of running. \
         Correct the 1900 L recovered with a premix of 18.4 L of concentrate B and 200.2 L of \
         deionised water, in parts, since the clean tank holds 1200 L; it then has 7.5 % by volume, \
         and the refractometer must then read 6 °Brix."
    );
    // A tank large enough for the whole batch takes it at once.
    let mut roomy = example();
    roomy["tanks"]["clean"]["capacity"] = 3000.into();
    assert!(!statement(&roomy).contains("in parts"), "{}", statement(&roomy));
}

/// Measured to five litres, the amounts are multiples of that, and the stated concentration
/// is that of these amounts.
#[test]
fn the_strength_that_is_said_is_that_of_the_rounded_amounts() {
    let question = batch(|question| question["measures_to"] = 5.into());
    let (said, record) = (statement(&question), solve("recycler", &question).expect("an answer"));
    let litres = before(&said, "L of ");
    assert_eq!(litres.len(), 2, "{said}");
    assert!(litres.iter().all(|litres| litres % 5.0 == 0.0), "{said}");
    let recovered = number(&record, "/answer/recovered/volume");
    let own = number(&record, "/answer/recovered/concentration") / 100.0 * recovered;
    let strength = (own + litres[0]) / (recovered + litres[0] + litres[1]) * 100.0;
    assert!(said.contains(&format!("it then has {strength:.2} % by volume")), "{strength}: {said}");
    // The answer itself is exact.
    assert_eq!(number(&record, "/answer/correction/batch/concentration"), 8.0);

    let said = statement(&in_us_units(service("recycler"), &question));
    assert!(said.contains("US gal of concentrate") && !said.contains(" L "), "{said}");
}

/// A tank that runs over, one that runs short and a recycler that cannot keep up come
/// first, and each is a finding at its member.
#[test]
fn what_fails_is_said_first() {
    let mut small = example();
    small["tanks"]["dirty"]["capacity"] = 500.into();
    let said = statement(&small);
    assert!(said.starts_with("The dirty tank runs over from day 0, 07:13 on, by 87.1 L"), "{said}");
    assert_eq!(found("recycler", &small, "dirty-tank-runs-over"), ["/tanks/dirty/capacity"]);

    let mut wanted = example();
    wanted["demand"][0]["volume"] = 1500.into();
    let said = statement(&wanted);
    assert!(said.starts_with("The clean tank runs short from day 0, 1"), "{said}");
    assert_eq!(found("recycler", &wanted, "clean-tank-runs-short"), ["/tanks/clean/capacity"]);

    let mut slow = batch(|question| question["plan_days"] = 1.into());
    slow["hours_per_day"] = 2.into();
    let said = statement(&slow);
    assert!(said.starts_with("The recycler cannot keep up") && said.contains("2 h in"), "{said}");
    assert_eq!(found("recycler", &slow, "recycler-cannot-keep-up"), ["/hours_per_day"]);
}

/// A batch that needs no correction says so.
#[test]
fn nothing_to_pour_is_said() {
    let on_target = json!({
        "units": "metric",
        "feed": { "volume": 400, "concentration": 6 },
        "stages": [{ "name": "filter", "throughput": 50 }],
        "mode": "single_pass",
        "hours_per_day": 8,
        "target": { "concentration": 6 },
    });
    let said = statement(&on_target);
    assert!(said.ends_with("Nothing to pour: the 400 L recovered are on target."), "{said}");
    assert!(said.contains("clean by day 0, 08:00,"), "{said}");
}
