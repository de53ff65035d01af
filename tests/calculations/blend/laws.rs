//! Properties of every feasible blend.

use crate::contract::assert_closes;
use crate::draws::feasible_blend;
use crate::support::assert_nothing_negative;
use crate::{number, solve};
use proptest::prelude::*;

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..Default::default() })]

    #[test]
    fn a_feasible_blend_is_made(question in feasible_blend()) {
        let record = solve("blend", &question).expect("it can be made");
        assert_closes(&record);
        assert_nothing_negative(&record["answer"]);
        for (i, stock) in question["stocks"].as_array().expect("stocks").iter().enumerate() {
            if let Some(on_hand) = stock["volume"].as_f64() {
                let taken = number(&record, &format!("/answer/take/{i}/volume"));
                prop_assert!(taken <= on_hand * (1.0 + 1e-9));
            }
        }
    }
}
