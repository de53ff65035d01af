//! The operator's page as sent over HTTP. `tests/tools/page/run` tests it in a
//! browser.

use crate::server::{get, header, request};
use crate::{SERVICES, spec};
use flate2::read::GzDecoder;
use reqwest::blocking::Response;
use serde_json::Value;
use std::io::Read;

/// Every address that the page fetches to begin with, found in its files.
fn first_addresses() -> Vec<String> {
    addresses(&["from \""])
}

/// Every address that the page may ever fetch, found in its files, but for the engine's.
fn all_addresses() -> Vec<String> {
    let besides = ["/service-worker.js", "/page/engine-worker.js", "/page/other-forms.json"];
    let besides = besides.map(str::to_owned);
    addresses(&["from \"", "import(\""]).into_iter().chain(besides).collect()
}

/// The addresses of what the page itself names, and of what its scripts bring in after these words.
fn addresses(brought_in_by: &[&str]) -> Vec<String> {
    let text = |path: &str| get(path).text().expect("text");
    let quoted = |text: &str, before: &str| -> Vec<String> {
        let pieces = text.split(before).skip(1);
        pieces.filter_map(|piece| piece.split('"').next()).map(str::to_owned).collect()
    };
    let index = text("/");
    let mut found = vec!["/".to_owned(), "/page/forms.json".to_owned()];
    for attribute in ["src=\"", "href=\""] {
        let named = quoted(&index, attribute).into_iter();
        found.extend(named.filter(|one| one.starts_with("page/")).map(|one| format!("/{one}")));
    }
    let mut next = 0;
    while next < found.len() {
        if found[next].rsplit_once('.').is_some_and(|(_, ending)| ending == "js") {
            let script = text(&found[next]);
            let named = brought_in_by.iter().flat_map(|words| quoted(&script, words));
            for import in named.filter(|one| one.starts_with('.')) {
                let import = beside(&found[next], &import);
                if !found.contains(&import) {
                    found.push(import);
                }
            }
        }
        next += 1;
    }
    found
}

/// The address that a file names by the way to it.
fn beside(file: &str, way: &str) -> String {
    let mut folders: Vec<&str> = file.split('/').collect();
    folders.pop();
    for step in way.split('/') {
        match step {
            "." => {}
            ".." => drop(folders.pop()),
            name => folders.push(name),
        }
    }
    folders.join("/")
}

fn packed(path: &str) -> Response {
    request("GET", path).header("accept-encoding", "br, gzip").send().expect("an answer")
}

#[test]
fn every_file_comes_with_its_type_and_a_policy_that_keeps_it_here() {
    let addresses = all_addresses();
    assert!(addresses.len() >= 40, "the page's files were not found: {addresses:?}");
    for address in addresses {
        let response = get(&address);
        assert_eq!(response.status(), 200, "{address}");
        let ending = address.rsplit_once('.').map_or("", |(_, ending)| ending);
        let expected = match ending {
            "js" => "text/javascript; charset=utf-8",
            "css" => "text/css; charset=utf-8",
            "svg" => "image/svg+xml",
            "json" => "application/json",
            "webmanifest" => "application/manifest+json",
            "png" => "image/png",
            _ => "text/html; charset=utf-8",
        };
        assert_eq!(header(&response, "content-type"), expected, "{address}");
        assert_eq!(header(&response, "x-content-type-options"), "nosniff");
        // What a browser shows or runs by itself; the rest is under the policy of the page that names it.
        if matches!(ending, "" | "/" | "svg") || address.ends_with("-worker.js") {
            assert_eq!(header(&response, "referrer-policy"), "no-referrer");
            let policy = header(&response, "content-security-policy");
            assert!(policy.starts_with("default-src 'none'; script-src 'self' "), "{policy}");
            // An engine may be compiled; no text may be run as a script.
            let lax = policy.replace(" 'wasm-unsafe-eval'", "").contains("unsafe");
            assert!(!lax && policy.contains("frame-ancestors 'none'"), "{policy}");
        }
        let text = response.text().expect("text");
        assert_eq!(outside(&text), None, "{address} points elsewhere");
    }
}

/// The XML namespace of SVG; nothing is fetched from there.
const SVG: &str = "http://www.w3.org/2000/svg";

/// Namespaces of XML, which are names and no addresses: of SVG and of a workbook.
const NAMESPACES: [&str; 4] = [
    SVG,
    "http://schemas.openxmlformats.org/spreadsheetml/2006/main",
    "http://schemas.openxmlformats.org/officeDocument/2006/relationships",
    "http://schemas.openxmlformats.org/package/2006",
];

/// The first address of another machine in a text: two slashes after a scheme or at the start of
/// a quoted or bracketed address, followed by part of a name.
fn outside(text: &str) -> Option<String> {
    let text = NAMESPACES.iter().fold(text.to_owned(), |text, name| text.replace(name, ""));
    let at = text.match_indices("//").map(|(at, _)| at).find(|at| {
        let before = text[..*at].chars().next_back().unwrap_or(' ');
        let after = text[at + 2..].chars().next().unwrap_or(' ');
        ":\"'`(=,".contains(before) && (after.is_alphanumeric() || "[$".contains(after))
    })?;
    let words = text[..at].chars().rev().take(20).collect::<Vec<_>>().into_iter().rev();
    Some(words.chain(text[at..].chars().take(30)).collect())
}

#[test]
fn an_outside_address_is_found_however_it_is_written() {
    for bad in [
        "<script src=\"https://one.example/x.js\">",
        "fetch('http://one.example')",
        "<img src=//one.example/x.png>",
        "@import \"//one.example/x.css\"",
        "url(//one.example/x.woff)",
        "new WebSocket(`wss://${host}/`)",
        "const to = \"ftp://[::1]/\"",
    ] {
        assert!(outside(bad).is_some(), "{bad} was accepted as one of our own addresses");
    }
    for good in ["let a = 1; // one", "// one", "\"page/x.js\"", "\"./x.js\"", SVG] {
        assert_eq!(outside(good), None);
    }
}

/// The size of the whole page and all schemas, compressed.
#[test]
fn the_page_weighs_less_than_150_kilobytes() {
    let mut weight = 0;
    for address in first_addresses() {
        let response = packed(&address);
        assert_eq!(header(&response, "content-encoding"), "gzip", "{address}");
        assert_eq!(header(&response, "vary"), "accept-encoding");
        let bytes = response.bytes().expect("a body");
        weight += bytes.len();
        let mut plain = Vec::new();
        GzDecoder::new(bytes.as_ref()).read_to_end(&mut plain).expect("gzip");
        assert_eq!(plain, get(&address).bytes().expect("a body"), "{address}");
    }
    assert!(weight < 150_000, "the page weighs {weight} bytes");
}

#[test]
fn a_browser_that_has_a_file_is_not_sent_it_again() {
    for address in all_addresses() {
        let tag = header(&get(&address), "etag").to_owned();
        assert!(tag.starts_with("W/\""), "{address}: {tag}");
        let again = request("GET", &address).header("if-none-match", &tag).send().expect("it");
        assert_eq!(again.status(), 304, "{address}");
        assert!(again.bytes().expect("no body").is_empty());
        let other = request("GET", &address).header("if-none-match", "W/\"0\"").send();
        assert_eq!(other.expect("an answer").status(), 200);
    }
}

#[test]
fn the_page_is_read_and_nothing_else() {
    for address in ["/", "/page/page.js", "/page/forms.json"] {
        let posted = request("POST", address).send().expect("an answer");
        assert_eq!(
            (posted.status().as_u16(), header(&posted, "allow")),
            (405, "GET, HEAD, OPTIONS")
        );
        let head = request("HEAD", address).send().expect("an answer");
        assert_eq!(head.status(), 200);
        assert!(head.bytes().expect("no body").is_empty());
        assert_eq!(request("OPTIONS", address).send().expect("an answer").status(), 204);
    }
    assert_eq!(get("/page/nothing.js").status(), 404);
    let refused = request("GET", "/page/page.js").header("accept-encoding", "gzip;q=0").send();
    assert_eq!(header(&refused.expect("an answer"), "content-encoding"), "");
}

/// The forms are drawn from the published document without its examples.
/// The page's schemas are the published ones, except that no description ends with the
/// unit, which the page shows beside the number, and no title is only its member's name in words; `units`
/// counts the former.
fn assert_same_but_units(lean: &Value, full: &Value, units: &mut usize) {
    match (lean, full) {
        (Value::Object(lean), Value::Object(full)) => {
            let names = |schema: &serde_json::Map<String, Value>| -> Vec<String> {
                let apart = ["example", "examples", "x-unit", "title"];
                let is_double = schema.get("format").is_some_and(|format| format == "double");
                let is_apart = |name: &str| apart.contains(&name) || is_double && name == "format";
                let shown = |name: &&String| !is_apart(name);
                schema.keys().filter(shown).cloned().collect()
            };
            assert_eq!(names(lean), names(full));
            for (name, inner) in lean {
                match (name.as_str(), inner, &full[name]) {
                    // What may be left out is left out by the page, and never null.
                    ("type", Value::String(own), Value::Array(kinds)) => {
                        assert!(kinds.len() == 2 && kinds.contains(&own.as_str().into()));
                    }
                    ("description", Value::String(own), Value::String(whole)) if own != whole => {
                        let unit = whole.strip_prefix(own.as_str()).expect("its words are kept");
                        let unit = unit.trim_start();
                        assert!(unit.starts_with("Unit: ") || unit == "Dimensionless.", "{whole}");
                        assert!(full.contains_key("x-quantity"), "{whole}");
                        *units += 1;
                    }
                    ("properties", Value::Object(own), Value::Object(whole)) => {
                        // What an answer says on request, the page does not ask for.
                        let on_request = ["unit_codes", "digests"];
                        let kept = whole.keys().filter(|name| !on_request.contains(&name.as_str()));
                        assert!(own.keys().eq(kept), "{own:?}");
                        for (member, own) in own {
                            if own.get("title").is_none() {
                                let mut words = member.replace('_', " ");
                                words[..1].make_ascii_uppercase();
                                assert_eq!(whole[member]["title"], words);
                            }
                            assert_same_but_units(own, &whole[member], units);
                        }
                    }
                    (_, inner, whole) => assert_same_but_units(inner, whole, units),
                }
            }
        }
        (Value::Array(lean), Value::Array(full)) => {
            assert_eq!(lean.len(), full.len());
            lean.iter().zip(full).for_each(|(one, whole)| assert_same_but_units(one, whole, units));
        }
        _ => assert_eq!(lean, full),
    }
}

#[test]
fn the_forms_know_every_calculation() {
    let [forms, others] = ["/page/forms.json", "/page/other-forms.json"].map(|address| {
        let forms = get(address).text().expect("a document");
        assert!(
            !forms.contains("\"examples\":") && !forms.contains("\"x-unit\":"),
            "no form shows them"
        );
        serde_json::from_str::<Value>(&forms).expect("JSON")
    });
    let published = spec();
    let mut schemas = forms["components"]["schemas"].clone();
    let others = others["components"]["schemas"].as_object().expect("schemas").clone();
    let members = schemas.as_object_mut().expect("schemas");
    let first = members.len();
    members.extend(others);
    members.sort_keys();
    assert!(members.len() > 2 * first, "the first task needs {first} of {} schemas", members.len());
    let schemas = &schemas;
    let mut same = published["components"]["schemas"].clone();
    let mut without_words = 0;
    for (name, schema) in same.as_object_mut().expect("schemas") {
        if schemas[name].get("description").is_none() {
            schema.as_object_mut().expect("a schema").retain(|member, _| member != "description");
            without_words += 1;
        }
    }
    assert!(without_words > 300, "{without_words} schemas leave their description out");
    for schema in schemas.as_object().expect("schemas").values() {
        for (name, member) in schema["properties"].as_object().into_iter().flatten() {
            // What a member does not say of itself, the schema that it refers to says.
            let referred = member["$ref"].as_str().and_then(|one| one.rsplit('/').next());
            if let Some(referred) = referred
                && member.get("description").is_none()
            {
                assert!(schemas[referred]["description"].is_string(), "{name}: {referred}");
            }
        }
    }
    let mut units = 0;
    assert_same_but_units(schemas, &same, &mut units);
    assert!(units > 500, "{units} descriptions lost their unit");
    assert_eq!(forms["x-quantities"], published["x-quantities"]);
    for service in SERVICES.iter() {
        let path = format!("/v1/{}", service.name);
        let (lean, full) = (&forms["paths"][&path]["post"], &published["paths"][&path]["post"]);
        assert_eq!(lean["summary"], full["summary"]);
        let kinds = |holder: &Value| -> Vec<(String, Value)> {
            let content = holder["content"].as_object().expect("content");
            content.iter().map(|(kind, one)| (kind.clone(), one["schema"].clone())).collect()
        };
        assert_eq!(kinds(&lean["requestBody"]), kinds(&full["requestBody"]), "{path}");
        let answers = full["responses"]["200"]["$ref"].as_str().expect("a component");
        let answers = published.pointer(&answers[1..]).expect("what is referred to");
        assert_eq!(kinds(&lean["responses"]["200"]), kinds(answers), "{path}");
    }
}

/// Self-contained pages may not run or fetch anything.
#[test]
fn other_pages_for_people_are_guarded_too() {
    let sheet = request(
        "GET",
        "/v1/top-up?units=us&sump.capacity=50&sump.volume=40\
                        &sump.concentration=5&target.concentration=8",
    )
    .header("accept", "text/html")
    .send()
    .expect("a sheet");
    for page in [sheet, get("/problems/malformed")] {
        assert!(header(&page, "content-type").starts_with("text/html"));
        let policy = header(&page, "content-security-policy");
        assert!(policy.starts_with("default-src 'none'; style-src 'unsafe-inline';"), "{policy}");
        assert_eq!(header(&page, "x-content-type-options"), "nosniff");
    }
}
