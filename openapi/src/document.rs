//! The OpenAPI document, drawn up from the catalogue.

use crate::components::{self, Components, refer};
use crate::envelope::{REFERENCE, REFERENCE_MOST, UNITS};
use crate::index::Index;
use crate::parameters;
use crate::problem::{self, Fault, Problem, ProblemKind};
use crate::shape::Shape;
use serde_json::{Map, Value, json};
use sumpwright_engine::VERSION;
use sumpwright_engine::balance::Balance;
use sumpwright_engine::calculation::{Assumption, Calculation, Caution, Visitor, catalogue};
use sumpwright_engine::quantity::UnitSystem;
use utoipa::{PartialSchema, ToSchema};

/// The component that describes a problem.
pub const PROBLEM: &str = "Problem";

/// Parameters of a query that are not part of the question.
pub const QUERY_OPTIONS: [&str; 4] = ["pick", "format", "digits", "problems"];

/// The OpenAPI document, and what is read from it.
pub struct Published {
    document: Value,
}

impl Published {
    /// The document as it is shipped.
    ///
    /// # Panics
    ///
    /// Never: a tree always writes as text.
    #[must_use]
    pub fn text(&self) -> String {
        let text = serde_json::to_string_pretty(&self.document);
        format!("{}\n", text.expect("a tree of JSON writes as text"))
    }

    /// The shape of a component.
    #[must_use]
    pub fn shape(&self, component: &str) -> Shape {
        let none = Map::new();
        let components = self.components().unwrap_or(&none);
        Shape::of(&json!({ "$ref": refer(component) }), components)
    }

    /// A validator for a component, by the published document itself.
    ///
    /// # Panics
    ///
    /// When the component is not a schema, which the tests rule out.
    #[must_use]
    pub fn validator(&self, component: &str) -> jsonschema::Validator {
        let schema = json!({
            "$schema": "https://json-schema.org/draft/2020-12/schema",
            "$ref": refer(component),
            "components": self.document["components"],
        });
        jsonschema::validator_for(&schema).expect("every published component is a schema")
    }

    fn components(&self) -> Option<&Components> {
        self.document["components"]["schemas"].as_object()
    }
}

/// The name of the component that describes requests for a calculation.
#[must_use]
pub fn question_name(calculation: &str) -> String {
    format!("{}Question", pascal_case(calculation))
}

/// The name of the component that describes answers of a calculation.
#[must_use]
pub fn record_name(calculation: &str) -> String {
    format!("{}Record", pascal_case(calculation))
}

fn pascal_case(kebab: &str) -> String {
    kebab
        .split('-')
        .flat_map(|word| {
            let (first, rest) = word.split_at(1);
            [first.to_uppercase(), rest.to_owned()]
        })
        .collect()
}

/// Draws up the document.
#[must_use]
pub fn publish() -> Published {
    let mut drawing = Drawing::default();
    drawing.component::<UnitSystem>();
    drawing.component::<Balance>();
    drawing.component::<Assumption>();
    drawing.component::<Caution>();
    drawing.component::<Problem>();
    drawing.component::<sumpwright_engine::refusal::Reachable>();
    drawing.component::<Index>();
    catalogue(&mut drawing);
    drawing.finish()
}

#[derive(Default)]
struct Drawing {
    components: Components,
    calculations: Vec<Drawn>,
}

/// What the document says of one calculation.
struct Drawn {
    name: &'static str,
    summary: &'static str,
    description: String,
    example: Value,
    answer: Value,
}

impl Visitor for Drawing {
    fn visit<C: Calculation>(&mut self) {
        let mut named = Vec::new();
        <C as ToSchema>::schemas(&mut named);
        <C::Answer as ToSchema>::schemas(&mut named);
        let answer = C::Answer::name().into_owned();
        named.push((answer.clone(), C::Answer::schema()));
        self.components(named);
        let question = as_value(&C::schema());
        let description = question["description"].as_str().unwrap_or_default().to_owned();
        self.components.insert(question_name(C::NAME), with_envelope(question));
        self.components.insert(record_name(C::NAME), record_of(C::SUMMARY, &answer));
        let (example, answer) = worked_example::<C>();
        let (name, summary) = (C::NAME, C::SUMMARY);
        self.calculations.push(Drawn { name, summary, description, example, answer });
    }
}

/// The example of a calculation, and what it answers.
fn worked_example<C: Calculation>() -> (Value, Value) {
    let example = serde_json::from_str(C::EXAMPLE).unwrap_or_default();
    let answered = crate::service::answer_example::<C>();
    (example, answered.unwrap_or_default())
}

fn as_value(schema: &impl serde::Serialize) -> Value {
    serde_json::to_value(schema).unwrap_or_default()
}

/// The question's schema with the members of the envelope before its own.
fn with_envelope(mut question: Value) -> Value {
    let mut members = Map::new();
    let units = "Governs every number of the request and of its answer.";
    members.insert(UNITS.to_owned(), json!({ "$ref": refer("UnitSystem"), "description": units }));
    let reference = json!({
        "type": ["string", "null"],
        "maxLength": REFERENCE_MOST,
        "description": "A text of the caller's own (order, batch, machine), handed back untouched.",
    });
    members.insert(REFERENCE.to_owned(), reference);
    if let Some(own) = question["properties"].as_object_mut() {
        members.append(own);
    }
    question["properties"] = members.into();
    let mut required = vec![json!(UNITS)];
    required.extend(question["required"].as_array().into_iter().flatten().cloned());
    question["required"] = required.into();
    question["additionalProperties"] = false.into();
    question
}

fn record_of(summary: &str, answer: &str) -> Value {
    json!({
        "type": "object",
        "description": format!("{summary}: the answer, with all that makes it a record."),
        "required": ["units", "calculation", "version", "answer", "assumptions", "cautions"],
        "properties": {
            "reference": {
                "type": "string",
                "description": "The caller's own text, as it came.",
            },
            "units": {
                "$ref": refer("UnitSystem"),
                "description": "The system of units of every number in it.",
            },
            "calculation": { "type": "string", "description": "Which calculation was asked." },
            "version": { "type": "string", "description": "Which release answered." },
            "answer": { "$ref": refer(answer), "description": "The calculation's own result." },
            "balance": {
                "$ref": refer("Balance"),
                "description": "The material balance behind it; absent where no material moves.",
            },
            "assumptions": {
                "type": "array",
                "items": { "$ref": refer("Assumption") },
                "description": "What was taken for granted because the request did not say.",
            },
            "cautions": {
                "type": "array",
                "items": { "$ref": refer("Caution") },
                "description":
                    "What can hurt a person, a machine or the environment in doing it.",
            },
        },
    })
}

impl Drawing {
    fn component<T: ToSchema>(&mut self) {
        let mut named = vec![(T::name().into_owned(), T::schema())];
        T::schemas(&mut named);
        self.components(named);
    }

    fn components(
        &mut self,
        named: Vec<(String, utoipa::openapi::RefOr<utoipa::openapi::Schema>)>,
    ) {
        for (name, schema) in named {
            self.components.entry(name).or_insert_with(|| as_value(&schema));
        }
    }

    fn finish(mut self) -> Published {
        components::publish(&mut self.components);
        let questions: Vec<String> =
            self.calculations.iter().map(|drawn| question_name(drawn.name)).collect();
        components::never_null_in_answers(&mut self.components, &questions);
        for drawn in &self.calculations {
            components::exemplify(&mut self.components, &question_name(drawn.name), &drawn.example);
            components::exemplify(&mut self.components, &record_name(drawn.name), &drawn.answer);
        }
        self.components.sort_keys();
        let mut paths = Map::new();
        for drawn in &self.calculations {
            paths.insert(format!("/v1/{}", drawn.name), self.calculation(drawn));
            paths.insert(format!("/v1/{}/example", drawn.name), example(drawn));
        }
        paths.append(&mut service_paths());
        let document = json!({
            "openapi": "3.1.0",
            "info": {
                "title": "Sumpwright",
                "version": VERSION,
                "summary": "Mass balance of water-mix cutting fluid",
                "description": INTRODUCTION,
                "license": { "name": "MIT OR Apache-2.0", "identifier": "MIT OR Apache-2.0" },
            },
            "servers": [{ "url": "/", "description": "This server" }],
            "security": [],
            "tags": [
                { "name": "calculations", "description": "One question, one answer. Nothing is stored." },
                { "name": "service", "description": "What there is, and what it means." },
            ],
            "paths": paths,
            "components": { "schemas": self.components, "responses": responses() },
        });
        Published { document }
    }

    fn calculation(&self, drawn: &Drawn) -> Value {
        let id = pascal_case(drawn.name);
        let question = refer(&question_name(drawn.name));
        let record = refer(&record_name(drawn.name));
        let json_answer = json!({ "schema": { "$ref": record }, "example": drawn.answer });
        let mut parameters =
            parameters::of_question(&self.components[&question_name(drawn.name)], &self.components);
        parameters.extend(query_options());
        let as_text = json!({ "schema": { "type": "string" } });
        json!({
            "post": {
                "operationId": format!("solve{id}"),
                "tags": ["calculations"],
                "summary": drawn.summary,
                "description": drawn.description,
                "requestBody": {
                    "required": true,
                    "content": {
                        "application/json": {
                            "schema": { "$ref": question },
                            "example": drawn.example,
                        },
                    },
                },
                "responses": with_problems("Answered.", &json!({ "application/json": json_answer })),
            },
            "get": {
                "operationId": format!("ask{id}"),
                "tags": ["calculations"],
                "summary": drawn.summary,
                "description": format!("{} {FLAT}", drawn.description),
                "parameters": parameters,
                "responses": with_problems("Answered.", &json!({
                    "application/json": json_answer,
                    "text/csv": as_text,
                    "text/plain": as_text,
                })),
            },
        })
    }
}

const INTRODUCTION: &str = "For whoever looks after the water-mix cutting fluid of a machine shop: \
a reading and a sump in, what to add out, with the material balance that proves it. Nothing is \
stored; the same document gives the same answer, byte for byte.\n\nEvery number is in the system of \
units that the request names. A schema of a number carries `x-unit`, the unit in both systems as a \
UCUM code, and `x-quantity`, the kind of quantity; its bounds hold for either system, and the exact \
ones are checked in the units of the request.\n\nAnswers are calculations, not permissions: the \
fluid's safety data sheet, local codes and licensed practice come first.";

const FLAT: &str = "The document is flattened into the query: a member's path with dots, a place \
in a list by its number from 0. Members of free names (`properties`, `limits`) are given the same \
way, `stocks.0.properties.hardness=120`. A blank is a member that is not given.";

fn query_options() -> [Value; 4] {
    let option = |name: &str, description: &str, schema: Value| {
        json!({
            "name": name,
            "in": "query",
            "required": false,
            "description": description,
            "schema": schema,
        })
    };
    [
        option(
            QUERY_OPTIONS[0],
            "Answers the one value at this path, as text/plain without a line end: \
             `answer.add.0.volume`.",
            json!({ "type": "string" }),
        ),
        option(
            QUERY_OPTIONS[1],
            "The format, where the caller cannot send Accept.",
            json!({ "type": "string", "enum": ["json", "csv", "text"] }),
        ),
        option(
            QUERY_OPTIONS[2],
            "Rounds the numbers that are shown to so many significant digits.",
            json!({ "type": "integer", "minimum": 1, "maximum": 17 }),
        ),
        option(
            QUERY_OPTIONS[3],
            "`as_text` turns a problem into a 200 with its sentence as text, for callers that \
             never see the body of an error; `as_problem` is what happens without it.",
            json!({ "type": "string", "enum": ["as_problem", "as_text"] }),
        ),
    ]
}

fn example(drawn: &Drawn) -> Value {
    let question = refer(&question_name(drawn.name));
    json!({
        "get": {
            "operationId": format!("exampleOf{}", pascal_case(drawn.name)),
            "tags": ["calculations"],
            "summary": format!("A complete request for {} that works as it stands", drawn.name),
            "responses": with_problems("The example.", &json!({
                "application/json": { "schema": { "$ref": question }, "example": drawn.example },
            })),
        },
    })
}

fn service_paths() -> Map<String, Value> {
    let get = |id: &str, summary: &str, content: Value| {
        json!({
            "get": {
                "operationId": id,
                "tags": ["service"],
                "summary": summary,
                "responses": with_problems(summary, &content),
            },
        })
    };
    let index = json!({ "application/json": { "schema": { "$ref": refer("Index") } } });
    let document = json!({ "application/json": { "schema": { "type": "object" } } });
    let mut page = get(
        "explainProblem",
        "What a type of problem means",
        json!({ "text/html": { "schema": { "type": "string" } } }),
    );
    let slugs: Vec<&str> = ProblemKind::ALL.iter().map(|kind| kind.row().slug).collect();
    page["get"]["parameters"] = json!([{
        "name": "problem",
        "in": "path",
        "required": true,
        "description": "The last part of a problem's type.",
        "schema": { "type": "string", "enum": slugs },
    }]);
    Map::from_iter([
        ("/v1".to_owned(), get("listCalculations", "What there is, a line each", index)),
        ("/openapi.json".to_owned(), get("describeService", "This document", document)),
        ("/problems/{problem}".to_owned(), page),
    ])
}

/// An answer and every problem there may be instead, each status once.
fn with_problems(description: &str, content: &Value) -> Value {
    let mut all = Map::new();
    all.insert("200".to_owned(), json!({ "description": description, "content": content }));
    for status in statuses() {
        let response = format!("#/components/responses/Problem{status}");
        all.insert(status.to_string(), json!({ "$ref": response }));
    }
    all.into()
}

fn statuses() -> Vec<u16> {
    let mut statuses: Vec<u16> = ProblemKind::ALL.iter().map(|kind| kind.row().status).collect();
    statuses.dedup();
    statuses
}

fn responses() -> Value {
    let all = statuses().into_iter().map(|status| {
        let kinds = ProblemKind::ALL.iter().filter(|kind| kind.row().status == status);
        let examples: Map<String, Value> = kinds
            .clone()
            .map(|kind| {
                let fault = Fault::new("", kind.row().page);
                let example = json!({ "value": Problem::new(*kind, fault) });
                (kind.row().slug.to_owned(), example)
            })
            .collect();
        let titles: Vec<&str> = kinds.map(|kind| kind.row().title).collect();
        let content = json!({ "schema": { "$ref": refer(PROBLEM) }, "examples": examples });
        let response = json!({
            "description": format!("{}.", titles.join(". ")),
            "content": { problem::MEDIA_TYPE: content },
        });
        (format!("Problem{status}"), response)
    });
    Value::Object(all.collect())
}
