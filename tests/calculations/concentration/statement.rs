//! The statement of a reading: the concentration, its place in the band, and the marks.

use crate::{service, solve};
use serde_json::Value;

fn statement(question: &Value) -> String {
    let record = solve("concentration", question).unwrap_or_else(|problem| panic!("{problem:?}"));
    record["statement"].as_str().expect("a statement").to_owned()
}

/// By hand: 1.25·(b − 0.2) % by volume, and the band read backwards.
#[test]
fn strength_standing_and_marks_are_said() {
    let mut example: Value = serde_json::from_str(service("concentration").example).expect("JSON");
    let marks = "Keep the reading between 4.4 °Brix and 5.6 °Brix, and aim for 5 °Brix.";
    let said = statement(&example);
    assert_eq!(said, format!("The fluid is at 6 % by volume, in its band. {marks}"));
    example["reading"]["brix"] = 4.2.into();
    let weak = "The fluid is too weak: 5 % by volume, below its band from 5.25 % by volume on.";
    assert_eq!(statement(&example), format!("{weak} {marks}"));
    example["reading"]["brix"] = 6.2.into();
    let strong = "The fluid is too strong: 7.5 % by volume, above its band up to 6.75 % by volume.";
    assert_eq!(statement(&example), format!("{strong} {marks}"));
    example.as_object_mut().expect("a question").remove("band");
    let alone = "The fluid is at 7.5 % by volume: 12.3 parts of water to one of concentrate.";
    assert_eq!(statement(&example), alone);
}
