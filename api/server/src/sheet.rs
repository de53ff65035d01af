//! The job sheet: an answer's steps as a page that a person carries.
//!
//! Written once for every calculation that answers with steps: their quantities
//! are shown with the units of the answer's own schema. Steps at the same place
//! (a machine of a trip, a batch) share a line, so that a round fits on a sheet;
//! what each kind of step means stands once at the foot.

use maud::{DOCTYPE, Markup, PreEscaped, html};
use serde_json::Value;
use sumpwright_engine::quantity::{Row, UnitSystem};
use sumpwright_engine::sentence::round_to;
use sumpwright_openapi::faults::units_of;
use sumpwright_openapi::service::Service;
use sumpwright_openapi::shape::Shape;

/// Members of an answer that hold steps, the likelier first.
const STEPS: [&str; 2] = ["sheet", "steps"];
/// Members of a step that say where it belongs, and how a heading calls them.
const PLACES: [(&str, &str); 2] = [("haul", "Trip"), ("batch", "Batch")];
/// Members of a step that are told apart from its quantities.
const NOT_QUANTITIES: [&str; 7] = ["action", "text", "haul", "batch", "sump", "stock", "name"];

/// Whether answers of this shape have steps to print.
#[must_use]
pub fn is_offered(record: &Shape) -> bool {
    steps_of(record).is_some()
}

fn steps_of(record: &Shape) -> Option<(&'static str, &Shape)> {
    let answer = record.member("answer")?;
    STEPS.iter().find_map(|name| match answer.member(name)? {
        Shape::List(step) => Some((*name, step.as_ref())),
        _ => None,
    })
}

/// The job sheet of an answer.
#[must_use]
pub fn page(service: &Service, record: &Value) -> String {
    let units = units_of(record).unwrap_or(UnitSystem::Metric);
    let found = steps_of(&service.record);
    let steps = found.and_then(|(name, _)| record["answer"][name].as_array());
    let steps = steps.map(Vec::as_slice).unwrap_or_default();
    let shape = found.map(|(_, shape)| shape);
    let lines = lines(steps);
    let title = format!("Job sheet: {}", service.name);
    let reference = record["reference"].as_str();
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width";
                title { (title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                h1 { (title) @if let Some(reference) = reference { small { (reference) } } }
                table {
                    @for (i, line) in lines.iter().enumerate() {
                        @let heading = heading(line[0]);
                        @if heading.is_some() && (i == 0 || heading != self::heading(lines[i - 1][0])) {
                            tr { th colspan="3" { (heading.unwrap_or_default()) } }
                        }
                        tr {
                            td.box { "☐" }
                            td.where { (line[0]["sump"].as_str().unwrap_or_default()) }
                            td { @for step in line { (one(step, shape, units)) } }
                        }
                    }
                }
                (meanings(steps))
                (cautions(record))
            }
        }
    };
    markup.into_string()
}

/// Steps in a row at the same place, together.
fn lines(steps: &[Value]) -> Vec<Vec<&Value>> {
    let mut lines: Vec<Vec<&Value>> = Vec::new();
    for step in steps {
        let together = |line: &&mut Vec<&Value>| {
            let same = |member: &str| line[0].get(member) == step.get(member);
            let somewhere = step.get("sump").or(step.get("haul")).or(step.get("batch")).is_some();
            somewhere && same("sump") && PLACES.iter().all(|(member, _)| same(member))
        };
        match lines.last_mut().filter(together) {
            Some(line) => line.push(step),
            None => lines.push(vec![step]),
        }
    }
    lines
}

/// What stands above the lines of a trip or of a batch.
fn heading(step: &Value) -> Option<String> {
    PLACES.iter().find_map(|(member, word)| {
        let product = step["product"].as_str().map(|product| format!(", {product}"));
        let number = step.get(*member)?.as_f64()?;
        Some(format!(
            "{word} {number}{}",
            product.filter(|_| *member == "batch").unwrap_or_default()
        ))
    })
}

/// A step in a few words: what, with what, how much.
fn one(step: &Value, shape: Option<&Shape>, units: UnitSystem) -> Markup {
    let stock = step["stock"].as_str().or(step["name"].as_str());
    let quantities = step.as_object().into_iter().flatten().filter_map(|(member, value)| {
        let Shape::Number(Some(row)) = shape?.member(member)? else { return None };
        let shown = !NOT_QUANTITIES.contains(&member.as_str());
        shown.then(|| quantity(value.as_f64(), row, units)).flatten()
    });
    html! {
        span.step {
            (in_words(step)) " "
            @if let Some(stock) = stock { i { (stock) } " " }
            @for quantity in quantities { b { (quantity) } " " }
        }
    }
}

fn in_words(step: &Value) -> String {
    step["action"].as_str().unwrap_or_default().replace('_', " ")
}

/// A number as it is read at arm's length.
fn quantity(number: Option<f64>, row: &Row, units: UnitSystem) -> Option<String> {
    let rounded = round_to(number?, 4);
    let symbol = row.units.in_system(units).symbol;
    let symbol = symbol.strip_suffix(" by volume").unwrap_or(symbol);
    let symbol = if symbol.starts_with("on the scale") { "on the scale" } else { symbol };
    Some(format!("{rounded} {symbol}").trim_end().to_owned())
}

/// What each kind of step means, once.
fn meanings(steps: &[Value]) -> Markup {
    let mut kinds: Vec<&Value> = Vec::new();
    for step in steps {
        if !kinds.iter().any(|kind| kind["action"] == step["action"]) {
            kinds.push(step);
        }
    }
    html! {
        dl {
            @for kind in kinds {
                div { dt { (in_words(kind)) } dd { (kind["text"].as_str().unwrap_or_default()) } }
            }
        }
    }
}

fn cautions(record: &Value) -> Markup {
    let cautions = record["cautions"].as_array().into_iter().flatten();
    html! {
        h2 { "Take care" }
        ul { @for caution in cautions { li { (caution["text"].as_str().unwrap_or_default()) } } }
        p {
            "The fluid's safety data sheet, local codes and licensed practice come before this \
             sheet."
        }
    }
}

const STYLE: &str = "\
@page { size: A4; margin: 9mm }
body { font: 12px/1.25 'DejaVu Sans', Arial, sans-serif; color: #000; background: #fff; max-width: 192mm; margin: 0 auto }
h1 { font-size: 20px; margin: 0 0 2mm }
h1 small { font-size: 12px; font-weight: normal; margin-left: 3mm }
h2 { font-size: 13px; margin: 2mm 0 1mm }
table { width: 100%; border-collapse: collapse }
th { text-align: left; font-size: 14px; border-bottom: 2px solid #000; padding: 1.5mm 0 0 }
td { border-bottom: 1px solid #999; padding: .5mm 1mm; vertical-align: baseline }
td.box { width: 5mm; font-size: 16px }
td.where { font-weight: bold; white-space: nowrap }
.step { display: inline-block; margin-right: 3mm }
.step b { font-size: 15px; font-variant-numeric: tabular-nums; white-space: nowrap }
dl { columns: 2; font-size: 10px; margin: 2mm 0 0; column-gap: 5mm }
dl div { break-inside: avoid }
dt { font-weight: bold; display: inline }
dt::after { content: ': ' }
dd { display: inline; margin: 0 }
ul { columns: 2; font-size: 10px; margin: 0; padding-left: 4mm; column-gap: 5mm }
p { font-size: 10px; margin: 1mm 0 0 }
@media screen { body { padding: 5mm } }";
