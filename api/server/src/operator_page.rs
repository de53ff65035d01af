//! The operator's page at `/`: a few files for a browser, built in.
//!
//! The page draws its forms and answers from the published schemas, which it
//! fetches once without their examples; it uses the same addresses as any other
//! caller. Files are sent compressed to browsers that accept that.
//!
//! # Decisions
//!
//! - **The page is drawn from the schemas.** A new calculation or member appears on the page at
//!   `/` without extra work; only two are arranged by hand: the batch check (`page/batch.js`), which asks
//!   `concentration` and `top-up`, and the morning round (`page/morning.js`), which asks `condition` of every
//!   machine in one request of a line each, or where no service answers of the device, one after the other. It
//!   is fetched when it is opened. Apart from converting units the page computes two things, in the batch
//!   check: the volume at a level, assuming straight walls, and by Pearson's square the smallest correction,
//!   which `top-up` then balances; both questions and answers are shown. A form edits a plain document, and is
//!   redrawn from it when its structure or its units change; numbers are converted by the units of their
//!   `x-quantity`.
//!   Required members and those of the calculation's example are shown first; the others unfold. There is no
//!   framework and no build step.
//!   The page fetches the schemas as `/page/forms.json`, the OpenAPI document without its examples, which
//!   make up most of its bytes, and of the schemas only those of the first task; those of all others are
//!   `/page/other-forms.json`, fetched with the first of these tasks. Job sheet and chart open at an address with the flat form. The
//!   entries are in the address fragment, which is never sent to a server, and in the tab's own storage,
//!   task by task. Entries of a wrong shape are refused as a whole; whole ones are answered at once.
//! - **The statement first.** An answer stands above its question, the statement in the largest letters
//!   of the page, then picture, findings, steps and cautions; figures, assumptions, balance and the record for a
//!   program are folded. Print takes what comes before the folds. Light or dark is the device's preference.
//! - **The device remembers, the service does not.** Tanks, machines and their checks lie in the browser's
//!   database (`page/kept/`), through a small library that is vendored with its licence; what they give is an ordinary
//!   question. What was poured is kept as it was told, measured out, and not exactly: it is what somebody did. Links and
//!   codes carry what is constant of a place in the fragment.
//! - **Workbooks are read and written in the page** (`page/workbook/`), so that it can be done where no service
//!   answers. A vendored library packs and unpacks them; what it lies in is fetched when the first one is
//!   wanted. Libraries that read or write whole workbooks were passed over: there is one for each way, each with
//!   more code of others, and neither tells a formula without its result from an empty cell.
//! - **A key is handed over, not typed.** If an address answers 401 with `/problems/no-key`, the page asks for a
//!   key, sends it as `Authorization: Bearer` with every request and keeps it in `sessionStorage`, or in
//!   `localStorage` when asked to. A link may bring one in its fragment, which is never sent and at once
//!   taken out of the address. Job sheet and chart are fetched with a key and opened as blobs, as they are
//!   if the entries are too long for an address. A blob inherits the page's policy, which forbids styles
//!   in the document: the style becomes a blob too.
//! - **Where no service answers, the device does**, with the same engine (`page/engine.js`,
//!   `api/browser`), and the page says so. A service worker keeps the page's files and the engine on the
//!   device, and nothing else: no answer and no key. It keeps only files whose tags this service names, all
//!   of one version. A page that comes from a service of another version gets none of them, so that no two
//!   versions mix. Browsers do so over https, and on the machine itself.

use crate::http::built_in::{self, BuiltInFile};
use crate::http::door::{Address, at};
use crate::http::kept::tag_of;
use crate::http::respond::{self, reading};
use crate::shared::Shared;
use actix_web::{HttpRequest, HttpResponse, web};
use engine::Engine;
use forms::forms;
use serde_json::{Map, Value, json};
use std::sync::OnceLock;
use sumpwright_openapi::problem::{Problem, ProblemKind};
use sumpwright_openapi::service::Services;

pub(crate) mod engine;
mod forms;

/// The policy of the page's files in a browser: they may only use this server. A job
/// sheet fetched with a key is shown under the same policy, with its style as a blob.
const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; \
                      worker-src 'self'; manifest-src 'self'; style-src 'self' blob:; \
                      img-src 'self' blob:; connect-src 'self'; form-action 'none'; \
                      base-uri 'none'; frame-ancestors 'none'";

/// A file of the page: its address, and its text.
macro_rules! file {
    ($name:literal) => {
        (concat!("/page/", $name), include_str!(concat!("../page/", $name)))
    };
}

/// Every file that the page names.
const FILES: &[(&str, &str)] = &[
    file!("icon.svg"),
    file!("manifest.webmanifest"),
    file!("answer.css"),
    file!("form.css"),
    file!("frame.css"),
    file!("grid.css"),
    file!("picture.css"),
    file!("print.css"),
    file!("style.css"),
    file!("kept/kept.css"),
    file!("kept/label.css"),
    file!("answer.js"),
    file!("answering.js"),
    file!("apart.js"),
    file!("ask-many.js"),
    file!("ask.js"),
    file!("away.js"),
    file!("batch-answer.js"),
    file!("batch.js"),
    file!("cell.js"),
    file!("chart.js"),
    file!("columns.js"),
    file!("delimited.js"),
    file!("dom.js"),
    file!("drafts.js"),
    file!("engine-worker.js"),
    file!("engine.js"),
    file!("entries.js"),
    file!("far.js"),
    file!("field.js"),
    file!("figures.js"),
    file!("form.js"),
    file!("grid-draw.js"),
    file!("grid-edit.js"),
    file!("grid-files.js"),
    file!("grid-keys.js"),
    file!("grid-past.js"),
    file!("grid-rows.js"),
    file!("grid-text.js"),
    file!("grid.js"),
    file!("key.js"),
    file!("lists.js"),
    file!("measured.js"),
    file!("moment.js"),
    file!("morning-kept.js"),
    file!("morning-list.js"),
    file!("morning.js"),
    file!("notice.js"),
    file!("next-reading.js"),
    file!("now.js"),
    file!("page.js"),
    file!("schema.js"),
    file!("steps.js"),
    file!("tasks.js"),
    file!("units.js"),
    file!("writing.js"),
    file!("kept/correct.js"),
    file!("kept/csv.js"),
    file!("kept/device.js"),
    file!("kept/edit.js"),
    file!("kept/exchange.js"),
    file!("kept/history.js"),
    file!("kept/home.js"),
    file!("kept/judge.js"),
    file!("kept/kept.js"),
    file!("kept/label.js"),
    file!("kept/leaves.js"),
    file!("kept/link.js"),
    file!("kept/place.js"),
    file!("kept/qr.js"),
    file!("kept/questions.js"),
    file!("kept/quick.js"),
    file!("kept/record.js"),
    file!("kept/sheet.js"),
    file!("kept/store.js"),
    file!("kept/timeline.js"),
    file!("kept/undo.js"),
    file!("kept/words.js"),
    file!("vendored/fflate.js"),
    file!("vendored/idb.js"),
    file!("vendored/uqr.js"),
    file!("workbook/formats.js"),
    file!("workbook/read.js"),
    file!("workbook/write.js"),
];

/// Address and bytes of the icons that a device shows for the page.
const ICONS: [(&str, &[u8]); 2] = [
    ("/page/icon-192.png", include_bytes!("../page/icon-192.png")),
    ("/page/icon-512.png", include_bytes!("../page/icon-512.png")),
];

/// The type of a file, from the end of its address.
fn media_type(address: &str) -> &'static str {
    match address.rsplit_once('.') {
        Some((_, "js")) => "text/javascript; charset=utf-8",
        Some((_, "css")) => "text/css; charset=utf-8",
        Some((_, "svg")) => "image/svg+xml",
        Some((_, "png")) => "image/png",
        Some((_, "json")) => "application/json",
        Some((_, "webmanifest")) => "application/manifest+json",
        _ => "text/html; charset=utf-8",
    }
}

/// Address of the schemas from which the form and answer of the first task are drawn.
const FORMS: &str = "/page/forms.json";
/// Address of the schemas of all other tasks.
const OTHER_FORMS: &str = "/page/other-forms.json";

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
    let written = FILES.iter().map(|(address, _)| *address);
    let icons = ICONS.iter().map(|(address, _)| *address);
    for address in written.chain(icons).chain([PAGE, FORMS, OTHER_FORMS, KEEPER]) {
        config.service(at(address, Address::Open).to(file));
    }
    config.service(at(engine::ADDRESS, Address::Open).to(engine_file));
}

async fn file(
    request: HttpRequest,
    page: web::Data<OperatorPage>,
    shared: web::Data<Shared>,
) -> HttpResponse {
    let files = page.files.get_or_init(|| files(&shared.services, shared.engine.as_ref()));
    built_in::answer(&request, files, POLICY)
}

async fn engine_file(request: HttpRequest, shared: web::Data<Shared>) -> HttpResponse {
    let of_pool = shared.clone();
    // No other request waits until it is packed.
    let pack = move || {
        if let Some(engine) = &of_pool.engine {
            engine.packed();
        }
    };
    let is_packed = web::block(pack).await;
    reading(&request, || match &shared.engine {
        Some(engine) if is_packed.is_ok() => engine.packed().answer(&request, POLICY),
        _ => respond::problem(&Problem::plain(
            ProblemKind::NotFound,
            "This service has no engine for browsers, so the page needs the service. The setting \
             page_engine names the file.",
        )),
    })
}

fn files(services: &Services, engine: Option<&Engine>) -> Vec<BuiltInFile> {
    let new = |address, bytes| BuiltInFile::new(address, media_type(address), bytes);
    let written = FILES.iter().map(|(address, text)| new(address, text.as_bytes().to_vec()));
    let icons = ICONS.iter().map(|(address, bytes)| new(address, bytes.to_vec()));
    let forms = forms(&services.openapi);
    let forms = [(FORMS, forms.first), (OTHER_FORMS, forms.others)]
        .map(|(address, schemas)| new(address, schemas.to_string().into_bytes()));
    let mut files: Vec<BuiltInFile> = written.chain(icons).chain(forms).collect();
    // By the page's tag a device sees whether anything of it has changed.
    let page = include_str!("../page/index.html");
    let tags = files.iter().map(BuiltInFile::tag).chain(engine.map(Engine::tag));
    let tag = tag_of(tags.chain([page]).map(str::as_bytes));
    files.push(BuiltInFile::tagged(PAGE, media_type(PAGE), page, tag));
    files.push(new(KEEPER, keeper(&files, engine).into_bytes()));
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
