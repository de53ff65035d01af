//! What is said first of a round of top-ups.

use super::{round, sump};
use crate::solve;
use serde_json::{Value, json};

fn said(mut round: Value) -> String {
    round["units"] = "metric".into();
    solve("top-up-round", &round).expect("an answer")["statement"].as_str().expect("text").into()
}

#[test]
fn what_to_mix_comes_first_and_then_who_stays_out() {
    let sumps = || {
        vec![
            sump("lathe 1", 150.0, 5.0),
            sump("lathe 2", 160.0, 5.5),
            sump("lathe 3", 200.0, 6.0),
            sump("lathe 4", 200.0, 4.0),
        ]
    };
    assert_eq!(
        said(round(sumps())),
        "Mix 90 L at 7 % by volume: it serves 2 of 4 sumps. lathe 4 stays out of its band; the \
         steps say why."
    );
    let mut with_rich = sumps();
    with_rich[3] = sump("lathe 4", 200.0, 8.0);
    let mut round_with = round(with_rich);
    round_with["moving"] = json!({ "at_least": 10 });
    round_with["vessels"] = json!([{ "name": "trolley", "capacity": 60 }]);
    let text = said(round_with);
    assert!(text.contains("lathe 4 gives") && text.contains("to lathe 1"), "{text}");
}

#[test]
fn where_nothing_is_to_be_done_it_says_so() {
    assert_eq!(
        said(round(vec![sump("lathe 1", 200.0, 6.0), sump("lathe 2", 199.0, 6.9)])),
        "Nothing to pour: all 2 sumps are in their bands and at their levels."
    );
    assert_eq!(
        said(round(vec![sump("lathe 1", 198.0, 6.0)])),
        "Nothing to pour: the sump is in its band and at its level."
    );
}

#[test]
fn a_decimal_point_in_the_wrong_place_is_asked_back_first() {
    let text = said(round(vec![sump("lathe 1", 150.0, 51.0)]));
    assert!(text.starts_with("lathe 1: 51 % by volume is unusual"), "{text}");
}
