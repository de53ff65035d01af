//! The operations of the OpenAPI document.

use super::answers;
use super::components::{Components, refer};
use super::drawn::Drawn;
use super::headers::{self, GoesOut};
use super::index::Index;
use super::many;
use super::names::{QUERY_OPTIONS, pascal_case, question_name, record_name};
use super::parameters::{self, parameter};
use super::problems::with_problems;
use crate::picture_width;
use crate::request::problem::ProblemKind;
use serde_json::{Map, Value, json};

/// Asking a calculation by POST and by GET, both of which have the same answers: those of
/// the component called [`answers_name`].
pub(crate) fn of_calculation(drawn: &Drawn, components: &Components) -> Value {
    let id = pascal_case(drawn.name);
    let question = question_name(drawn.name);
    let options = query_options(drawn).into_iter().chain([headers::preference()]);
    let options = options.chain(headers::sent());
    let mut parameters = parameters::of_question(&components[&question], components);
    parameters.push(many::uncertain_inputs());
    parameters.extend(options.clone());
    let answered = json!({ "$ref": format!("#/components/responses/{}", answers_name(drawn)) });
    json!({
        "post": {
            "operationId": format!("solve{id}"),
            "tags": [drawn.name],
            "summary": drawn.summary,
            "description": format!("{} {MANY}", drawn.description),
            "parameters": many::table_options().into_iter().chain(options).collect::<Vec<_>>(),
            "requestBody": many::posted(drawn, &refer(&question)),
            "responses": with_problems(answered.clone()),
        },
        "get": {
            "operationId": format!("ask{id}"),
            "tags": [drawn.name],
            "summary": drawn.summary,
            "description": format!("{} {FLAT}", drawn.description),
            "parameters": parameters,
            "responses": with_problems(answered),
        },
    })
}

/// The component that has the answers of a calculation.
fn answers_name(drawn: &Drawn) -> String {
    format!("{}Answered", pascal_case(drawn.name))
}

/// The answers of a calculation by the name of their component.
pub(crate) fn answers_of(drawn: &Drawn) -> (String, Value) {
    let record = refer(&record_name(drawn.name));
    let mut content = answers::of_calculation(drawn, &record);
    content.extend(many::answered());
    (answers_name(drawn), answer("Answered.", &content, GoesOut::Record))
}

const MANY: &str = "A table (text/csv), or documents one per line (application/x-ndjson, \
application/jsonl), can be posted instead: see the introduction.";

const FLAT: &str = "The request is flattened into the query: members are named by their path \
with dots, entries of a list are numbered from 0, and what is said of the first holds for the \
others. Members with names of your own (in `properties`, `limits`) are given the same way, \
`stocks.0.properties.hardness=120`; an uncertain number by its JSON pointer, which has slashes \
and no dots, \
`uncertainty.inputs./sump/volume.u=10`. A blank value counts as not given.";

fn query_options(drawn: &Drawn) -> [Value; QUERY_OPTIONS.len()] {
    let mut formats = vec!["json", "csv", "text"];
    if drawn.has_pictures {
        formats.push("svg");
    }
    if drawn.has_events {
        formats.push("ics");
    }
    let option = |name, description, schema| parameter(name, false, description, schema);
    [
        option(
            QUERY_OPTIONS[0],
            "Path of the one value to answer with, as text/plain without a line end, such as \
             `statement` or `answer.add.0.volume`. Several paths, separated by commas, are answered \
             in that order, one line each; a value that this answer does not have is a blank line.",
            json!({ "type": "string" }),
        ),
        option(
            QUERY_OPTIONS[1],
            "Format of the answer, for callers that cannot send Accept.",
            json!({ "type": "string", "enum": formats }),
        ),
        option(
            QUERY_OPTIONS[2],
            "Number of significant digits to which the answer's numbers are rounded.",
            json!({ "type": "integer", "minimum": 1, "maximum": 17 }),
        ),
        option(
            QUERY_OPTIONS[3],
            "`as_text` answers any problem with status 200 and its sentence as text, for callers \
             that never see the body of an error. Default: `as_problem`.",
            json!({ "type": "string", "enum": ["as_problem", "as_text"] }),
        ),
        option(
            QUERY_OPTIONS[4],
            "`comma` writes numbers in text, tables and pictures with a decimal comma. Default: \
             `point`. Numbers in JSON always have a point.",
            json!({ "type": "string", "enum": ["point", "comma"] }),
        ),
        option(
            QUERY_OPTIONS[5],
            "Width of the pictures in CSS pixels. Letters keep their size: a narrow drawing is laid \
             out for a phone.",
            json!({
                "type": "integer",
                "minimum": picture_width::LEAST,
                "maximum": picture_width::MOST,
                "default": picture_width::DEFAULT,
            }),
        ),
        option(
            QUERY_OPTIONS[6],
            "Of a record in JSON: `units` adds `unit_codes`, `digests` adds `digests` and the header \
             Content-Digest; both, separated by a comma.",
            json!({ "type": "string", "pattern": "^(units|digests)(,(units|digests))?$" }),
        ),
    ]
}

/// Asking for the example of a calculation.
pub(crate) fn of_example(drawn: &Drawn) -> Value {
    let question = refer(&question_name(drawn.name));
    let description = format!("The example that `POST /v1/{}` is shown with.", drawn.name);
    json!({
        "get": {
            "operationId": format!("exampleOf{}", pascal_case(drawn.name)),
            "tags": [drawn.name],
            "summary": format!("A complete request for {} that works as it stands", drawn.name),
            "description": "A scenario of this project's own, marked as an invented example.",
            "parameters": headers::sent(),
            "responses": with_problems(answer(&description, &answers::example_of(&question), GoesOut::Answer)),
        },
    })
}

const ALIVE: &str = "For a supervisor that starts the process anew where it does not answer.";
const READY: &str = "For what spreads requests over several services: 503 from the moment on that one is told to stop.";
const MEASURED: &str = "In OpenMetrics for callers that accept it, else in the older text format.";
const LISTED: &str = "In the order of a shop's work.";
const DESCRIBED: &str = "The same bytes as the file that the release comes with.";

/// What the service says of itself.
pub(crate) fn of_service(calculations: &[Drawn]) -> Map<String, Value> {
    let get = |id: &str, summary: &str, description: &str, content: Map<String, Value>| {
        json!({
            "get": {
                "operationId": id,
                "tags": ["service"],
                "summary": summary,
                "description": description,
                "parameters": headers::sent(),
                "responses": with_problems(answer(summary, &content, GoesOut::Answer)),
            },
        })
    };
    let mut page = get(
        "explainProblem",
        "What a type of problem means",
        "The page that the `type` of a problem is the address of.",
        answers::page(),
    );
    let slugs: Vec<&str> = ProblemKind::ALL.iter().map(|kind| kind.row().slug).collect();
    let slug = json!({
        "name": "problem",
        "in": "path",
        "required": true,
        "description": "The last part of a problem's type.",
        "schema": { "type": "string", "enum": slugs },
    });
    if let Some(parameters) = page["get"]["parameters"].as_array_mut() {
        parameters.insert(0, slug);
    }
    let index = Index::listing(calculations.iter().map(|drawn| (drawn.name, drawn.summary)));
    let (alive, ready) = (answers::text("alive"), answers::text("ready"));
    let index = answers::json(&refer("CalculationIndex"), &json!(index));
    Map::from_iter([
        ("/livez".to_owned(), get("isAlive", "Whether the process answers at all", ALIVE, alive)),
        ("/readyz".to_owned(), get("isReady", "Whether to send it requests", READY, ready)),
        (
            "/metrics".to_owned(),
            get("measure", "Metrics for Prometheus", MEASURED, answers::metrics()),
        ),
        ("/v1".to_owned(), get("listCalculations", "The calculations, with links", LISTED, index)),
        (
            "/openapi.json".to_owned(),
            get("describeService", "This document", DESCRIBED, answers::document()),
        ),
        ("/problems/{problem}".to_owned(), page),
    ])
}

/// A response that answers.
fn answer(description: &str, content: &Map<String, Value>, goes_out: GoesOut) -> Value {
    json!({ "description": description, "headers": headers::of(goes_out), "content": content })
}
