//! Properties of every feasible top-up.

use crate::contract::assert_closes;
use crate::draws::feasible_top_up;
use crate::support::assert_nothing_negative;
use crate::{number, solve};
use proptest::prelude::*;

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..Default::default() })]

    #[test]
    fn a_feasible_top_up_is_done(question in feasible_top_up()) {
        let record = solve("top-up", &question).expect("it can be done");
        assert_closes(&record);
        assert_nothing_negative(&record["answer"]);
        let capacity = number(&question, "/sump/capacity");
        let after = number(&record, "/answer/after/volume");
        prop_assert!(after <= capacity);
        prop_assert_eq!(number(&record, "/answer/misses_by"), 0.0);
        let asked = number(&question, "/target/concentration");
        prop_assert!((number(&record, "/answer/after/concentration") - asked).abs() < 1e-9);
        let drained = number(&record, "/answer/drain");
        prop_assert!(drained <= number(&question, "/sump/volume") * (1.0 + 1e-12));
    }

    /// The quantities to drain and add, mixed by hand, give the promised result, and
    /// draining a little less cannot.
    #[test]
    fn a_top_up_does_what_it_says_and_drains_no_more_than_it_must(question in feasible_top_up()) {
        let record = solve("top-up", &question).expect("it can be done");
        let v_0 = number(&question, "/sump/volume");
        let c_0 = match question["sump"].get("reading") {
            Some(reading) => number(reading, "/brix") * number(reading, "/factor"),
            None => number(&question, "/sump/concentration"),
        };
        let drain = number(&record, "/answer/drain");
        let concentrate = number(&record, "/answer/add/0/volume");
        let water = number(&record, "/answer/add/1/volume");
        let volume = v_0 - drain + concentrate + water;
        let strength = (c_0 * (v_0 - drain) + 100.0 * concentrate) / volume;
        let target = number(&question, "/target/concentration");
        prop_assert!((volume - number(&record, "/answer/after/volume")).abs() < 1e-9 * volume);
        prop_assert!((strength - target).abs() < 1e-9);
        let overfull = (v_0 - volume).max(0.0);
        if drain > overfull * (1.0 + 1e-9) + 1e-9 {
            // The addition is already the most effective one: the strongest premix, or water.
            let added = 100.0 * concentrate / (concentrate + water);
            prop_assert!(added < 1e-9 || (added - 20.0).abs() < 1e-7, "{concentrate} and {water}");
        }
    }
}
