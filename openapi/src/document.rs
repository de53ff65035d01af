//! The OpenAPI document, drawn up from the catalogue.

use crate::components::{self, Components, refer};
use crate::envelope::{REFERENCE, REFERENCE_MOST, UNCERTAINTY, UNITS};
use crate::index::Index;
use crate::problem::Problem;
use crate::shape::Shape;
use crate::{headers, operations};
use serde_json::{Map, Value, json};
use sumpwright_engine::VERSION;
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::catalogue::{Catalogue, Visitor};
use sumpwright_engine::fluid::balance::Balance;
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_engine::text::{Assumption, Caution, Finding};
use sumpwright_engine::uncertainty::{AnswerUncertainty, INPUTS_MOST, Uncertainty};
use utoipa::{PartialSchema, ToSchema};

/// The component that describes a problem.
pub const PROBLEM: &str = "Problem";

/// Parameters of a query that are not part of the question.
pub const QUERY_OPTIONS: [&str; 5] = ["pick", "format", "digits", "problems", "decimal"];

/// The security scheme of callers that are known by a key.
const KEY: &str = "key";

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
            "components": { "schemas": self.with_what_it_names(component) },
        });
        jsonschema::validator_for(&schema).expect("every published component is a schema")
    }

    /// A component and all that it refers to, however far: a validator of all
    /// components takes megabytes for each calculation.
    fn with_what_it_names(&self, component: &str) -> Components {
        let mut kept = Components::new();
        let mut due = vec![component.to_owned()];
        while let Some(name) = due.pop() {
            let schema = self.components().and_then(|components| components.get(&name));
            if let Some(schema) = schema
                && !kept.contains_key(&name)
            {
                note_references(schema, &mut due);
                kept.insert(name, schema.clone());
            }
        }
        kept
    }

    fn components(&self) -> Option<&Components> {
        self.document["components"]["schemas"].as_object()
    }
}

/// Notes the components that a schema refers to.
fn note_references(schema: &Value, names: &mut Vec<String>) {
    names.extend(crate::shape::reference(schema).map(str::to_owned));
    match schema {
        Value::Object(members) => members.values().for_each(|value| note_references(value, names)),
        Value::Array(entries) => entries.iter().for_each(|value| note_references(value, names)),
        _ => {}
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

pub(crate) fn pascal_case(kebab: &str) -> String {
    kebab
        .split('-')
        .flat_map(|word| {
            let (first, rest) = word.split_at(1);
            [first.to_uppercase(), rest.to_owned()]
        })
        .collect()
}

/// Draws up the document of a list of calculations.
///
/// # Panics
///
/// When two types of the catalogue share a name, or a question has a member of
/// the envelope's, which the tests rule out.
#[must_use]
pub fn publish(catalogue: &impl Catalogue) -> Published {
    let mut drawing = Drawing::default();
    drawing.component::<UnitSystem>();
    drawing.component::<Balance>();
    drawing.component::<Finding>();
    drawing.component::<Assumption>();
    drawing.component::<Caution>();
    drawing.component::<Uncertainty>();
    drawing.component::<AnswerUncertainty>();
    drawing.component::<Problem>();
    drawing.component::<sumpwright_engine::text::Reachable>();
    drawing.component::<Index>();
    catalogue.show(&mut drawing);
    drawing.finish()
}

#[derive(Default)]
struct Drawing {
    components: Components,
    calculations: Vec<Drawn>,
}

/// What the document says of one calculation.
pub(crate) struct Drawn {
    pub(crate) name: &'static str,
    pub(crate) summary: &'static str,
    pub(crate) description: String,
    pub(crate) example: Value,
    pub(crate) answer: Value,
    pub(crate) has_chart: bool,
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
        let (name, summary, has_chart) = (C::NAME, C::SUMMARY, C::HAS_CHART);
        self.calculations.push(Drawn { name, summary, description, example, answer, has_chart });
    }
}

/// The example of a calculation, and what it answers.
fn worked_example<C: Calculation>() -> (Value, Value) {
    let example = serde_json::from_str(C::EXAMPLE).unwrap_or_default();
    let answered = crate::ways::answer_example::<C>();
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
    let uncertainty = json!({
        "oneOf": [{ "$ref": refer("Uncertainty") }, { "type": "null" }],
        "description": "How uncertain numbers of this request are. The answer then says how \
                        uncertain its own are.",
    });
    members.insert(UNCERTAINTY.to_owned(), uncertainty);
    if let Some(own) = question["properties"].as_object_mut() {
        for name in members.keys() {
            assert!(!own.contains_key(name), "a question has a member {name} of the envelope's");
        }
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
            "findings": {
                "type": "array",
                "items": { "$ref": refer("Finding") },
                "description": "What to look at first, the worst first; absent when there is \
                                nothing.",
            },
            "answer": { "$ref": refer(answer), "description": "The calculation's own result." },
            "balance": {
                "$ref": refer("Balance"),
                "description": "The material balance behind it; absent where no material moves.",
            },
            "uncertainty": {
                "$ref": refer("AnswerUncertainty"),
                "description": "How sure the answer's numbers are; absent where the request did \
                                not say how sure its own are.",
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
            let schema = as_value(&schema);
            let known = self.components.entry(name.clone()).or_insert_with(|| schema.clone());
            assert_eq!(*known, schema, "two types are called {name}");
        }
    }

    fn finish(mut self) -> Published {
        components::publish(&mut self.components);
        // The derives have no word for how many members a map may have.
        self.components["Uncertainty"]["properties"]["inputs"]["maxProperties"] =
            INPUTS_MOST.into();
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
            paths.insert(
                format!("/v1/{}", drawn.name),
                operations::of_calculation(drawn, &self.components),
            );
            paths.insert(format!("/v1/{}/example", drawn.name), operations::of_example(drawn));
        }
        paths.append(&mut operations::of_service(&self.calculations));
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
            "security": [{}, { (KEY): [] }],
            "tags": [
                { "name": "calculations", "description": "One question, one answer. Nothing is stored." },
                { "name": "service", "description": "What there is, and what it means." },
            ],
            "paths": paths,
            "components": {
                "schemas": self.components,
                "parameters": headers::parameters(),
                "responses": operations::responses(),
                "securitySchemes": { (KEY): {
                    "type": "http",
                    "scheme": "bearer",
                    "description": "The key that whoever runs the service has given the caller. A \
                                    service that is open to its own machine alone needs none.",
                } },
            },
        });
        Published { document }
    }
}

const INTRODUCTION: &str = "For whoever looks after the water-mix cutting fluid of a machine shop: \
a reading and a sump in, what to add out, with the material balance that proves it. Nothing is \
stored; the same document gives the same answer, byte for byte.\n\nEvery number is in the system of \
units that the request names. A schema of a number carries `x-unit`, the unit in both systems as a \
UCUM code, and `x-quantity`, the kind of quantity; its bounds hold for either system, and the exact \
ones are checked in the units of the request.\n\nAny request may carry `uncertainty`: how far its \
numbers may be off, by their JSON pointers. Every number of the answer then has its standard \
uncertainty, its 95 % interval, and which input makes which share of it.\n\nAnswers are calculations, not permissions: the \
fluid's safety data sheet, local codes and licensed practice come first.";
