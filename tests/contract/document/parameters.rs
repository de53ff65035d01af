//! The members of a question as parameters of an address.

use super::examples::follow;
use crate::server::get;
use crate::{SERVICES, spec};
use serde_json::Value;
use sumpwright_openapi::flat;

/// Of two types, as one for blanks beside that of the member, generated clients make a structure that they
/// cannot send.
#[test]
fn a_parameter_is_of_one_type_and_one_that_may_be_left_out_may_be_blank() {
    let spec = spec();
    let (mut required, mut optional) = (0, 0);
    for (path, name, parameter) in of_addresses(&spec) {
        let schema = follow(&spec, &parameter["schema"]);
        assert!(schema["type"].is_string(), "{path}: {name} is {schema}");
        assert!(schema.get("anyOf").is_none(), "{path}: {name} is {schema}");
        match (parameter["required"] == true, parameter["allowEmptyValue"] == true) {
            (true, false) => required += 1,
            (false, true) => optional += 1,
            // As many parameters as there are uncertain numbers, and none by this name.
            _ => assert_eq!(name, "uncertain_inputs", "{path}"),
        }
    }
    assert!(required > 30 && optional > 500, "{required} {optional}");
}

/// What the document says of blanks holds: an example with every other member blank is answered as without them.
#[test]
fn a_blank_parameter_is_not_given() {
    let spec = spec();
    for service in SERVICES.iter() {
        let example: Value = serde_json::from_str(service.example).expect("JSON");
        let given = flat::flatten(&example);
        let mut query = form_urlencoded::Serializer::new(String::new());
        query.extend_pairs(given.iter().map(|(path, leaf)| (path, flat::leaf_text(leaf))));
        let address = format!("/v1/{}", service.name);
        let plain = get(&format!("{address}?{}", query.finish()));
        assert_eq!(plain.status(), 200, "{address}");
        let mut query = form_urlencoded::Serializer::new(String::new());
        query.extend_pairs(given.iter().map(|(path, leaf)| (path, flat::leaf_text(leaf))));
        for (_, name, parameter) in of_addresses(&spec).filter(|(path, ..)| *path == address) {
            let is_given = given.iter().any(|(path, _)| path == name);
            if parameter["allowEmptyValue"] == true && !is_given {
                query.append_pair(name, "");
            }
        }
        let with_blanks = get(&format!("{address}?{}", query.finish()));
        assert_eq!(with_blanks.bytes().expect("bytes"), plain.bytes().expect("bytes"), "{address}");
    }
}

/// Every parameter of an address of a calculation, with the path of its operation and its name.
fn of_addresses(spec: &Value) -> impl Iterator<Item = (&str, &str, &Value)> {
    let paths = spec["paths"].as_object().expect("paths");
    paths.iter().filter(|(_, item)| item.get("post").is_some()).flat_map(move |(path, item)| {
        let parameters = item["get"]["parameters"].as_array().into_iter().flatten();
        parameters.map(|parameter| follow(spec, parameter)).filter_map(move |parameter| {
            let is_member = parameter["in"] == "query";
            is_member
                .then(|| (path.as_str(), parameter["name"].as_str().expect("a name"), parameter))
        })
    })
}
