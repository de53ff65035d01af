//! Questions about make-up that are refused, over HTTP.

use crate::assert_problem;
use crate::number;
use crate::server::post;
use crate::support::changed;
use serde_json::{Value, json};

/// The example with a change, refused.
#[track_caller]
fn refused(slug: &str, pointers: &[&str], change: impl FnOnce(&mut Value)) -> Value {
    let question = changed("make-up", change);
    assert_problem(post("/v1/make-up", &question), 422, slug, pointers)
}

#[test]
fn a_make_up_is_refused_where_it_cannot_be() {
    refused("inconsistent", &["/limits/hardness/min"], |q| {
        q["limits"]["hardness"]["min"] = 500.into();
    });
    refused("inconsistent", &["/sump/properties/tramp_oil"], |q| {
        q["sump"]["properties"]["tramp_oil"] = 95.into();
    });
    refused("inconsistent", &["/water/properties/tramp_oil"], |q| {
        q["water"]["properties"]["tramp_oil"] = 100.into();
    });
    refused("inconsistent", &["/concentrate/properties/tramp_oil"], |q| {
        q["concentrate"] = json!({ "properties": { "tramp_oil": 1 } });
    });
    refused("not-identifiable", &["/limits/hardnes"], |q| {
        q["limits"]["hardnes"] = json!({ "max": 500 });
    });
    let problem = refused("unreachable", &["/losses/depletion_ratio"], |q| {
        q["losses"]["depletion_ratio"] = 20.into();
    });
    assert_eq!(number(&problem, "/reachable/concentration/high"), 5.0);
    refused("unreachable", &["/water/properties/tramp_oil"], |q| {
        q["water"]["properties"]["tramp_oil"] = 60.into();
    });
}
