//! Many documents in one request: a table, or documents one per line; and what goes with them.

use super::components::{Components, refer};
use super::drawn::Drawn;
use super::parameters::parameter;
use crate::table::HEADINGS_IN;
use serde_json::{Map, Value, json};

const TABLE: &str = "TableOfDocuments";
const LINES: &str = "LinesOfDocuments";
const INPUTS: &str = "UncertainInputs";

/// The media types of documents one per line.
pub(super) const OF_LINES: [&str; 2] = ["application/x-ndjson", "application/jsonl"];

/// What a calculation is posted: a document, or many.
pub(super) fn posted(drawn: &Drawn, question: &str) -> Value {
    let mut content = Map::new();
    content.insert(
        "application/json".to_owned(),
        json!({ "schema": { "$ref": question }, "example": drawn.example }),
    );
    content.insert("text/csv".to_owned(), text(TABLE));
    for media_type in OF_LINES {
        content.insert(media_type.to_owned(), text(LINES));
    }
    json!({ "required": true, "content": content })
}

/// What many documents are answered with, one per line.
pub(super) fn answered() -> Map<String, Value> {
    OF_LINES.map(|media_type| (media_type.to_owned(), text(LINES))).into_iter().collect()
}

fn text(component: &str) -> Value {
    json!({ "schema": { "$ref": refer(component) } })
}

/// The options of a table, beside those of every answer.
pub(super) fn table_options() -> [Value; 2] {
    let option = |name, description, schema| parameter(name, false, description, schema);
    [
        option(
            "columns",
            "Of a table: paths of the values to answer with, separated by commas. Default: all.",
            json!({ "type": "string" }),
        ),
        option(
            "headings_in_row",
            "Of a table: the row that has the headings, counted from 1. Default: the first.",
            json!({ "type": "integer", "minimum": HEADINGS_IN.start(), "maximum": HEADINGS_IN.end() }),
        ),
    ]
}

/// The uncertain numbers of a question that is asked by its address: as many parameters as there are, each named
/// by the pointer of its number.
pub(super) fn uncertain_inputs() -> Value {
    json!({
        "name": "uncertain_inputs",
        "in": "query",
        "description": "Not a parameter by this name, but one for each uncertain number, named by its JSON pointer: \
                        `uncertainty.inputs./sump/volume.u=4`, with `u`, `half_width` or `shape` at the end.",
        "style": "form",
        "explode": true,
        "schema": { "$ref": refer(INPUTS) },
    })
}

/// The schemas that all of these refer to.
pub(super) fn components() -> Components {
    let schema = |description: &str, example: &str| json!({ "type": "string", "description": description, "examples": [example] });
    let table = "units,sump.capacity [L],sump.volume [L],sump.concentration,target.concentration\n\
                 metric,200,140,7,8\n";
    let line = "{\"units\":\"metric\",\"sump\":{\"capacity\":200,\"volume\":140,\"concentration\":7},\
                \"target\":{\"concentration\":8}}\n";
    let inputs = json!({
        "type": "object",
        "description": "Uncertainty of numbers, each by the JSON pointer of its number.",
        "propertyNames": {
            "type": "string",
            "pattern": r"^uncertainty\.inputs\./[^.]+\.(u|half_width|shape)$",
        },
        "additionalProperties": { "type": "string" },
        "maxProperties": 300,
    });
    Components::from_iter([
        (TABLE.to_owned(), schema("A table: a heading, and a document per row.", table)),
        (LINES.to_owned(), schema("Documents, or their answers, one per line.", line)),
        (INPUTS.to_owned(), inputs),
    ])
}
