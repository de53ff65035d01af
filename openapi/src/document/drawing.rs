//! The OpenAPI document, drawn up from the catalogue.

use super::components::{self, Components};
use super::descriptions::paragraphs;
use super::drawn::Drawn;
use super::envelope::{on_request, record_of, with_envelope};
use super::headers;
use super::index::Index;
use super::lists::bound_lists;
use super::many;
use super::names::{ADDRESS_KEY, question_name, record_name};
use super::not_given::null_is_not_given;
use super::operations;
use super::parameters;
use super::problems;
use super::published::Published;
use super::quantities;
use super::titles::entitle;
use crate::request::problem::Problem;
use crate::ways::answer_example;
use serde_json::{Map, Value, json};
use sumpwright_engine::VERSION;
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::catalogue::{Catalogue, Visitor};
use sumpwright_engine::fluid::balance::Balance;
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_engine::text::{Assumption, Caution, Finding};
use sumpwright_engine::uncertainty::{AnswerUncertainty, INPUTS_MOST, NUMBERS_MOST, Uncertainty};
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

/// The security scheme of callers that are known by a key.
const KEY: &str = "key";
/// The same of callers that can send no header.
const KEY_IN_ADDRESS: &str = "key_in_address";

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

impl Visitor for Drawing {
    fn visit<C: Calculation>(&mut self) {
        let mut named = Vec::new();
        <C as ToSchema>::schemas(&mut named);
        <C::Answer as ToSchema>::schemas(&mut named);
        let answer_name = C::Answer::name().into_owned();
        named.push((answer_name.clone(), C::Answer::schema()));
        let (example, answer) = worked_example::<C>();
        let drawn = Drawn {
            name: C::NAME,
            summary: C::SUMMARY,
            description: String::new(),
            example,
            answer,
            has_pictures: C::PICTURES.is_some(),
            has_sheet: C::SHEET.is_some(),
            answer_list: C::ANSWER_LIST,
            has_events: C::EVENTS.is_some(),
        };
        self.calculation(drawn, &answer_name, &C::schema(), named);
    }
}

/// The example of a calculation, and what it answers.
fn worked_example<C: Calculation>() -> (Value, Value) {
    let example = serde_json::from_str(C::EXAMPLE).unwrap_or_default();
    let answered = answer_example::<C>();
    (example, answered.unwrap_or_default())
}

fn as_value(schema: &RefOr<Schema>) -> Value {
    let mut schema = serde_json::to_value(schema).unwrap_or_default();
    quantities::note_units(&mut schema);
    schema
}

impl Drawing {
    fn component<T: ToSchema>(&mut self) {
        let mut named = vec![(T::name().into_owned(), T::schema())];
        T::schemas(&mut named);
        self.components(named);
    }

    fn calculation(
        &mut self,
        mut drawn: Drawn,
        answer: &str,
        question: &RefOr<Schema>,
        named: Vec<(String, RefOr<Schema>)>,
    ) {
        self.components(named);
        let question = as_value(question);
        drawn.description = paragraphs(question["description"].as_str().unwrap_or_default());
        self.components.insert(question_name(drawn.name), with_envelope(question));
        self.components.insert(record_name(drawn.name), record_of(drawn.summary, answer));
        self.calculations.push(drawn);
    }

    fn components(&mut self, named: Vec<(String, RefOr<Schema>)>) {
        for (name, schema) in named {
            let schema = as_value(&schema);
            let known = self.components.entry(name.clone()).or_insert_with(|| schema.clone());
            assert_eq!(*known, schema, "two types are called {name}");
        }
    }

    fn finish(mut self) -> Published {
        components::publish(&mut self.components);
        self.components.extend(on_request());
        self.components.values_mut().for_each(entitle);
        // The derives have no word for how many members a map may have.
        for (component, map, most) in [
            ("RequestUncertainty", "inputs", INPUTS_MOST),
            ("FirstOrder", "budget", INPUTS_MOST),
            ("AnswerUncertainty", "numbers", NUMBERS_MOST),
        ] {
            self.components[component]["properties"][map]["maxProperties"] = most.into();
        }
        let questions: Vec<String> =
            self.calculations.iter().map(|drawn| question_name(drawn.name)).collect();
        let asked = components::asked(&self.components, &questions);
        components::never_null_in_answers(&mut self.components, &asked);
        null_is_not_given(&mut self.components, &asked);
        bound_lists(&mut self.components, &asked);
        for drawn in &self.calculations {
            components::exemplify(&mut self.components, &question_name(drawn.name), &drawn.example);
            components::exemplify(&mut self.components, &record_name(drawn.name), &drawn.answer);
        }
        self.components.extend(many::components());
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
        let answers = self.calculations.iter();
        let answers = answers.map(operations::answers_of);
        let mut responses: Map<String, Value> = answers.collect();
        responses.extend(problems::responses());
        let mut parameters = headers::parameters();
        parameters.extend(parameters::shared(&mut paths));
        let paths = Value::Object(paths);
        let schemas = Value::Object(self.components);
        let quantities = quantities::named_in(&schemas);
        let document = json!({
            "openapi": "3.1.0",
            "info": {
                "title": "Sumpwright",
                "version": VERSION,
                "summary": "Mass balance of water-mix cutting fluid",
                "description": INTRODUCTION,
                "contact": { "name": "Whoever runs this service" },
                "license": { "name": "MIT OR Apache-2.0", "identifier": "MIT OR Apache-2.0" },
            },
            "servers": [{ "url": "/", "description": "This server" }],
            "security": [{}, { (KEY): [] }, { (KEY_IN_ADDRESS): [] }],
            "tags": tags(&self.calculations),
            "paths": paths,
            "components": {
                "schemas": schemas,
                "parameters": parameters,
                "headers": headers::components(),
                "responses": responses,
                "securitySchemes": {
                    (KEY): {
                        "type": "http",
                        "scheme": "bearer",
                        "description": "A key from whoever runs the service. A service that \
                                        listens only to its own machine needs none.",
                    },
                    (KEY_IN_ADDRESS): {
                        "type": "apiKey",
                        "in": "query",
                        "name": ADDRESS_KEY,
                        "description": "A key for cells of a spreadsheet, which can send no \
                                        header. It only asks by GET, and only for the \
                                        calculations that it was made for. No other key may \
                                        stand in an address.",
                    },
                },
            },
            "x-quantities": quantities,
        });
        Published { document }
    }
}

/// A tag for each calculation, and one for what the service says of itself.
fn tags(calculations: &[Drawn]) -> Value {
    let calculations = calculations
        .iter()
        .map(|drawn| json!({ "name": drawn.name, "description": format!("{}.", drawn.summary) }));
    let words = "Index, problems and state of the service.";
    calculations.chain([json!({ "name": "service", "description": words })]).collect()
}

const INTRODUCTION: &str = "For whoever looks after the water-mix cutting fluid of a machine \
shop: a reading and a sump in, what to add out, with the material balance that proves it. \
Nothing is stored; the same document gives the same answer, byte for byte.\n\nEvery number is in \
the system of units that the request names. A schema of a number carries `x-unit`, its unit in \
both systems as UCUM codes, and `x-quantity`, the kind of quantity; this document's \
`x-quantities` has for each kind also the `symbol` as people write it, and in `scale` and `zero` \
how a number goes from one system to the other: metric = (us - zero) * scale, and us = metric / \
scale + zero. (`zero` is 32 for temperatures, 0 for all else.) The bounds of a number hold for \
either system; the exact ones are checked in the units of the request.\n\nAny request may carry `uncertainty`: the uncertainty of its numbers, by \
their JSON pointers. Every number of the answer then has its standard uncertainty, its 95 % \
interval and the share that each input contributes.\n\n**Tables.** Where a document is posted, a \
table can be posted instead, as text/csv: a document per row, or an entry per row where the request is a \
single list. A heading is the path of a member (`sump.capacity`) or its title, in any case (`Sump \
holds`). A title that several members have stands after the title around it (`Batch: Strength`); \
entries of a list are numbered from 0 in paths, and from 1 in titles (`Stocks #1: Strength`). A unit \
may stand in brackets or after a comma (`Sump holds [L]`), and holds for its column. Members with the same \
value in every row can be given in the query; `headings_in_row` says which row has the headings \
where others stand above it, and `columns` which values to answer with. The answer is text/csv: \
the caller's columns first, then `statement`, the answer's values and `problem`, which says why a \
row has no answer.\n\n**Many documents** can be posted as application/x-ndjson or \
application/jsonl, one per line: each is answered in its place, with a record or a problem. One longer \
than 8 MiB, or that takes too long, ends the answers and is the last.\n\n**Not given.** A member that may be left out may \
be null, and a list that may be left out may be empty: both are as good as left out.\n\nAnswers to a GET have an `ETag`, by \
which what has not changed need not be sent again; `Content-Digest` (RFC 9530) comes where `Want-Content-Digest` or \
`include=digests` asks for it.\n\nA problem is told by its `type`, and each \
fault in it by its `code`; their words may change at any time. What is no HTTP is refused before the service sees it, without a \
body and without an ID: 400 where the request cannot be read (broken framing, an address longer than 65,535 bytes), 431 \
where its head is too large, and the connection is closed.\n\nAnswers are calculations, not \
permissions: the fluid's safety data sheet, local codes and licensed practice come first.";
