//! The operator's page at `/`: a few files for a browser, built in.
//!
//! The page draws its forms and answers from the published schemas, which it
//! fetches once without their examples; it uses the same addresses as any other
//! caller. Files are sent compressed to browsers that accept that.
//!
//! # Decisions
//!
//! - **The page is drawn from the schemas.** A new calculation or member appears on the page at
//!   `/` without extra work; only the batch check is arranged by hand (`page/batch.js`), and it too asks
//!   `concentration` and `top-up`. Apart from converting units the page computes two things there: the volume
//!   at a level, assuming straight walls, and by Pearson's square the smallest correction, which
//!   `top-up` then balances; both questions and answers are shown. A form edits a plain document, and is
//!   redrawn from it when its structure or its units change; numbers are converted by the units of their
//!   `x-quantity`.
//!   Required members and those of the calculation's example are shown first; the others unfold. There is no
//!   framework and no build step.
//!   The page fetches the schemas as `/page/forms.json`, the OpenAPI document without its examples, which
//!   make up most of its bytes. Job sheet and chart open at an address with the flat form. Only the choice of
//!   units is stored; the entries are in the address fragment, which is never sent to a server. Entries of a
//!   wrong shape are refused as a whole.
//! - **A key stays in its tab.** If an address answers 401 with `/problems/no-key`, the page asks for a key in
//!   place of the answer, sends it as `Authorization: Bearer` with every request and keeps it in
//!   `sessionStorage`, never in an address. A link cannot carry a key, so job sheet and chart are then fetched
//!   and opened as blobs; the same happens if the entries are too long for an address. A blob
//!   inherits the page's policy, which forbids styles in the document: the style becomes a blob too.

use crate::http::built_in::{self, BuiltInFile};
use crate::http::door::{Address, at};
use actix_web::{HttpRequest, HttpResponse, web};
use serde_json::{Map, Value, json};
use std::sync::OnceLock;
use sumpwright_openapi::document::components::unit_in_words;
use sumpwright_openapi::service::Services;

/// The policy of the page's files in a browser: they may only use this server. A job
/// sheet fetched with a key is shown under the same policy, with its style as a blob.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self' blob:; \
                      img-src 'self' blob:; connect-src 'self'; form-action 'none'; \
                      base-uri 'none'; frame-ancestors 'none'";

const SCRIPT: &str = "text/javascript; charset=utf-8";

const STYLE: &str = "text/css; charset=utf-8";

/// Address, type and text of each file.
const FILES: [(&str, &str, &str); 20] = [
    ("/", "text/html; charset=utf-8", include_str!("../page/index.html")),
    ("/page/icon.svg", "image/svg+xml", include_str!("../page/icon.svg")),
    ("/page/style.css", STYLE, include_str!("../page/style.css")),
    ("/page/answer.css", STYLE, include_str!("../page/answer.css")),
    ("/page/picture.css", STYLE, include_str!("../page/picture.css")),
    ("/page/print.css", STYLE, include_str!("../page/print.css")),
    ("/page/page.js", SCRIPT, include_str!("../page/page.js")),
    ("/page/tasks.js", SCRIPT, include_str!("../page/tasks.js")),
    ("/page/ask.js", SCRIPT, include_str!("../page/ask.js")),
    ("/page/key.js", SCRIPT, include_str!("../page/key.js")),
    ("/page/apart.js", SCRIPT, include_str!("../page/apart.js")),
    ("/page/form.js", SCRIPT, include_str!("../page/form.js")),
    ("/page/field.js", SCRIPT, include_str!("../page/field.js")),
    ("/page/answer.js", SCRIPT, include_str!("../page/answer.js")),
    ("/page/chart.js", SCRIPT, include_str!("../page/chart.js")),
    ("/page/batch.js", SCRIPT, include_str!("../page/batch.js")),
    ("/page/batch-answer.js", SCRIPT, include_str!("../page/batch-answer.js")),
    ("/page/schema.js", SCRIPT, include_str!("../page/schema.js")),
    ("/page/units.js", SCRIPT, include_str!("../page/units.js")),
    ("/page/dom.js", SCRIPT, include_str!("../page/dom.js")),
];

/// Address of the schemas from which the forms are drawn.
const FORMS: &str = "/page/forms.json";

/// The page's files, prepared on the first request for one of them.
#[derive(Default)]
pub struct OperatorPage {
    files: OnceLock<Vec<BuiltInFile>>,
}

/// Registers the address of every file.
pub fn configure(config: &mut web::ServiceConfig) {
    for (address, _, _) in FILES {
        config.service(at(address, Address::Open).to(file));
    }
    config.service(at(FORMS, Address::Open).to(file));
}

async fn file(
    request: HttpRequest,
    page: web::Data<OperatorPage>,
    services: web::Data<Services>,
) -> HttpResponse {
    let files = page.files.get_or_init(|| files(&services));
    built_in::answer(&request, files, POLICY)
}

fn files(services: &Services) -> Vec<BuiltInFile> {
    let written = FILES.map(|(address, media_type, text)| {
        BuiltInFile::new(address, media_type, text.as_bytes().into())
    });
    let forms = forms(&services.openapi).to_string().into_bytes();
    written.into_iter().chain([BuiltInFile::new(FORMS, "application/json", forms)]).collect()
}

/// The parts of the OpenAPI document that the page needs: the schemas, the units of each kind
/// of quantity, and for each calculation its summary, its question and the formats of its answer.
fn forms(openapi: &str) -> Value {
    let document: Value = serde_json::from_str(openapi).unwrap_or_default();
    let paths = document["paths"].as_object().into_iter().flatten();
    let asked: Map<String, Value> = paths
        .filter_map(|(path, item)| {
            let post = item.get("post")?;
            let answers = post["responses"]["200"]["$ref"].as_str()?.strip_prefix('#')?;
            let answered = without_examples(&document.pointer(answers)?["content"]);
            let post = json!({
                "summary": post["summary"],
                "requestBody": { "content": without_examples(&post["requestBody"]["content"]) },
                "responses": { "200": { "content": answered } },
            });
            Some((path.clone(), json!({ "post": post })))
        })
        .collect();
    let mut schemas = document["components"]["schemas"].clone();
    without_unit_in_words(&mut schemas);
    json!({
        "paths": asked,
        "components": { "schemas": schemas },
        "x-quantities": document["x-quantities"],
    })
}

/// Takes the unit out of every description: the page shows it beside the number.
fn without_unit_in_words(schema: &mut Value) {
    match schema {
        Value::Object(members) => {
            members.values_mut().for_each(without_unit_in_words);
            let unit = unit_in_words(schema);
            if let Some(Value::String(description)) = schema.get_mut("description")
                && let Some(own) = description.strip_suffix(&unit)
            {
                *description = own.trim_end().to_owned();
            }
        }
        Value::Array(entries) => entries.iter_mut().for_each(without_unit_in_words),
        _ => {}
    }
}

/// The types of a body and their schemas.
fn without_examples(content: &Value) -> Value {
    let types = content.as_object().into_iter().flatten();
    types.map(|(name, kind)| (name.clone(), json!({ "schema": kind["schema"] }))).collect()
}
