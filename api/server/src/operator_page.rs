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
//! - **Where no service answers, the device does**, with the same engine (`page/engine.js`,
//!   `api/browser`), and the page says so. A service worker keeps the page's files and the engine on the
//!   device, and nothing else: no answer and no key. It keeps only files whose tags this service names, all
//!   of one version. A page that comes from a service of another version gets none of them, so that no two
//!   versions mix. Browsers do so over https, and on the machine itself.

use crate::http::built_in::{self, BuiltInFile, tag_of};
use crate::http::door::{Address, at};
use crate::shared::Shared;
use actix_web::{HttpRequest, HttpResponse, web};
use engine::Engine;
use serde_json::{Map, Value, json};
use std::sync::OnceLock;
use sumpwright_openapi::document::components::unit_in_words;
use sumpwright_openapi::service::Services;

pub(crate) mod engine;

/// The policy of the page's files in a browser: they may only use this server. A job
/// sheet fetched with a key is shown under the same policy, with its style as a blob.
const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; \
                      worker-src 'self'; manifest-src 'self'; style-src 'self' blob:; \
                      img-src 'self' blob:; connect-src 'self'; form-action 'none'; \
                      base-uri 'none'; frame-ancestors 'none'";

const SCRIPT: &str = "text/javascript; charset=utf-8";

const STYLE: &str = "text/css; charset=utf-8";

/// Address, type and text of each file.
const FILES: &[(&str, &str, &str)] = &[
    ("/", "text/html; charset=utf-8", include_str!("../page/index.html")),
    ("/page/icon.svg", "image/svg+xml", include_str!("../page/icon.svg")),
    ("/page/style.css", STYLE, include_str!("../page/style.css")),
    ("/page/answer.css", STYLE, include_str!("../page/answer.css")),
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
    ("/page/engine.js", SCRIPT, include_str!("../page/engine.js")),
    ("/page/engine-worker.js", SCRIPT, include_str!("../page/engine-worker.js")),
    ("/page/device.js", SCRIPT, include_str!("../page/device.js")),
    ("/page/manifest.webmanifest", MANIFEST, include_str!("../page/manifest.webmanifest")),
];

/// Address and bytes of the icons that a device shows for the page.
const ICONS: [(&str, &[u8]); 2] = [
    ("/page/icon-192.png", include_bytes!("../page/icon-192.png")),
    ("/page/icon-512.png", include_bytes!("../page/icon-512.png")),
];

const MANIFEST: &str = "application/manifest+json";

/// Address of the schemas from which the forms are drawn.
const FORMS: &str = "/page/forms.json";

/// Address of the page itself.
const PAGE: &str = "/";

/// Address of what keeps the page on a device, and serves it there where no service answers. It
/// governs the folder that it lies in.
const KEEPER: &str = "/service-worker.js";

/// The page's files, prepared on the first request for one of them.
#[derive(Default)]
pub struct OperatorPage {
    files: OnceLock<Vec<BuiltInFile>>,
}

/// Registers the address of every file.
pub fn configure(config: &mut web::ServiceConfig) {
    let written = FILES.iter().map(|(address, _, _)| *address);
    let icons = ICONS.iter().map(|(address, _)| *address);
    for address in written.chain(icons).chain([FORMS, KEEPER]) {
        config.service(at(address, Address::Open).to(file));
    }
    config.service(at(engine::ADDRESS, Address::Open).to(engine::answer));
}

async fn file(
    request: HttpRequest,
    page: web::Data<OperatorPage>,
    shared: web::Data<Shared>,
) -> HttpResponse {
    let files = page.files.get_or_init(|| files(&shared.services, shared.engine.as_ref()));
    built_in::answer(&request, files, POLICY)
}

fn files(services: &Services, engine: Option<&Engine>) -> Vec<BuiltInFile> {
    let (page, others): (Vec<_>, Vec<_>) = FILES.iter().partition(|(address, ..)| *address == PAGE);
    let written = others.into_iter().map(|(address, media_type, text)| {
        BuiltInFile::new(address, media_type, text.as_bytes().into())
    });
    let icons = ICONS.iter().map(|(at, bytes)| BuiltInFile::new(at, "image/png", bytes.to_vec()));
    let forms = forms(&services.openapi).to_string().into_bytes();
    let forms = BuiltInFile::new(FORMS, "application/json", forms);
    let mut files: Vec<BuiltInFile> = written.chain(icons).chain([forms]).collect();
    for (address, media_type, text) in page {
        // By the page's tag a device sees whether anything of it has changed.
        let tags = files.iter().map(BuiltInFile::tag).chain(engine.map(Engine::tag));
        let tag = tag_of(tags.chain([text]).map(str::as_bytes));
        files.push(BuiltInFile::tagged(address, media_type, text, tag));
    }
    files.push(BuiltInFile::new(KEEPER, SCRIPT, keeper(&files, engine).into_bytes()));
    files
}

/// What keeps the page on a device: a script, below the names and tags of what it keeps.
fn keeper(files: &[BuiltInFile], engine: Option<&Engine>) -> String {
    let named = |address: &'static str, tag: &str| {
        let beside = address.strip_prefix('/').filter(|name| !name.is_empty()).unwrap_or("./");
        (beside.to_owned(), Value::from(tag))
    };
    let files: Map<_, _> = files.iter().map(|file| named(file.address(), file.tag())).collect();
    let engine: Map<_, _> =
        engine.map(|one| named(engine::ADDRESS, one.tag())).into_iter().collect();
    let script = include_str!("../page/service-worker.js");
    format!("const FILES = {};\nconst ENGINE = {};\n{script}", json!(files), json!(engine))
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
