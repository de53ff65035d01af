//! The job sheet: the steps of an answer as a page that a person carries.
//!
//! One job sheet serves every calculation that answers with steps; their quantities
//! are shown with the units of the answer's own schema. Steps at the same machine
//! share a line, so that a round fits on one sheet. Text that many steps share stands
//! once at the foot; any other text stands in its line.
//!
//! **No calculation draws a job sheet.** Every answer with `sheet` or `steps` is also available as
//! `text/html`; the page is drawn from the shape of the answer.

use crate::http::html::shell;
use maud::{Markup, html};
use serde_json::Value;
use std::collections::BTreeMap;
use sumpwright_engine::document::Shape;
use sumpwright_engine::numerics::digits::round_to;
use sumpwright_engine::quantity::{Row, UnitSystem};
use sumpwright_openapi::envelope::{STATEMENT, units_of};
use sumpwright_openapi::service::Service;
use sumpwright_openapi::steps::steps_of;

/// Members of a step that group it under a heading, and the words of the heading.
const PLACES: [(&str, &str); 3] =
    [("trip", "Trip"), ("batch", "Batch"), ("rinse_mix", "Mix to rinse with")];
/// Numbers of a step that are not shown among its quantities.
const NOT_QUANTITIES: [&str; 5] = ["trip", "batch", "rinse_mix", "times", "minutes"];

/// The job sheet of an answer.
#[must_use]
pub fn job_sheet(service: &Service, record: &Value) -> String {
    let units = units_of(record).unwrap_or(UnitSystem::Metric);
    let found = steps_of(&service.record);
    let steps = found.and_then(|(name, _)| record["answer"][name].as_array());
    let steps = steps.map(Vec::as_slice).unwrap_or_default();
    let shape = found.map(|(_, shape)| shape);
    let lines = without_what_is_said_once(steps);
    let blocks = blocks(&lines);
    let columns = if blocks.len() > ONE_COLUMN { "two" } else { "one" };
    let title = format!("Job sheet: {}", service.name);
    let reference = record["reference"].as_str();
    let body = html! {
        h1 { (title) @if let Some(reference) = reference { small { (reference) } } }
        @if let Some(statement) = record[STATEMENT].as_str().filter(|text| !text.is_empty()) { p.statement { (statement) } }
        (findings(record))
        main class=(columns) {
            @for block in &blocks { (block.markup(shape, units)) }
        }
        (meanings(steps))
        (cautions(record))
    };
    shell(&title, &format!("{}{STYLE}", paper(units)), &body)
}

/// More blocks than this are set in two columns.
const ONE_COLUMN: usize = 6;

/// The steps of a trip or of a batch; those at one machine share a line.
struct SheetBlock<'a> {
    heading: Option<String>,
    lines: Vec<Vec<&'a Value>>,
}

fn blocks(steps: &[Value]) -> Vec<SheetBlock<'_>> {
    let mut blocks: Vec<SheetBlock<'_>> = Vec::new();
    for step in steps {
        let heading = heading(step);
        let alone = heading.is_none() && step.get("sump").is_none();
        if blocks.last().is_none_or(|block| block.heading != heading || alone) {
            blocks.push(SheetBlock { heading, lines: Vec::new() });
        }
        let Some(block) = blocks.last_mut() else { continue };
        match block.lines.last_mut().filter(|line| line[0].get("sump") == step.get("sump")) {
            Some(line) => line.push(step),
            None => block.lines.push(vec![step]),
        }
    }
    blocks
}

/// For each kind of step its vessel, if all steps of that kind use the same one.
fn only_vessels(steps: &[Value]) -> BTreeMap<&str, Option<&str>> {
    let mut only = BTreeMap::new();
    for step in steps {
        let vessel = step["vessel"].as_str();
        let of_kind = only.entry(step["action"].as_str().unwrap_or_default()).or_insert(vessel);
        if *of_kind != vessel {
            *of_kind = None;
        }
    }
    only
}

/// The steps without the vessel and the text that all steps of their kind share: both stand
/// once, in the legend.
fn without_what_is_said_once(steps: &[Value]) -> Vec<Value> {
    let only = only_vessels(steps);
    let at_the_foot: Vec<&Value> = repeated(steps).iter().map(|kind| &kind["action"]).collect();
    let mut lines = steps.to_vec();
    for line in lines.iter_mut().filter_map(Value::as_object_mut) {
        let action = line.get("action").and_then(Value::as_str).unwrap_or_default();
        let vessel = only.get(action).copied().flatten().is_some();
        let text = line.get("action").is_some_and(|action| at_the_foot.contains(&action));
        if vessel {
            line.remove("vessel");
        }
        if text {
            line.remove("text");
        }
    }
    lines
}

/// The heading of a trip or of a batch. Steps at a machine outside a trip have a heading of
/// their own.
fn heading(step: &Value) -> Option<String> {
    if step.get("sump").is_some() && step.get("trip").is_none() {
        return None;
    }
    PLACES.iter().find_map(|(member, word)| {
        let number = step.get(*member)?.as_u64()?;
        Some(format!("{word} {number}"))
    })
}

impl SheetBlock<'_> {
    fn markup(&self, shape: Option<&Shape>, units: UnitSystem) -> Markup {
        // Steps before the first machine stand in the heading.
        let led = self.heading.is_some() && self.lines[0][0].get("sump").is_none();
        let (leading, lines) = self.lines.split_at(usize::from(led));
        let product = self.lines.iter().flatten().find_map(|step| step["product"].as_str());
        html! {
            section {
                @if let Some(heading) = &self.heading {
                    h2 {
                        (heading)
                        @if let Some(product) = product { ", " (product) }
                        @for line in leading { ": " (words(line, shape, units)) }
                    }
                }
                @for line in lines {
                    p {
                        "☐ "
                        @if let Some(sump) = line[0]["sump"].as_str() { strong { (sump) } " " }
                        (words(line, shape, units))
                    }
                }
            }
        }
    }
}

/// The steps of a line, and their total time.
fn words(line: &[&Value], shape: Option<&Shape>, units: UnitSystem) -> Markup {
    html! {
        @for step in line { (one(step, shape, units)) }
        (time(line))
    }
}

/// A step in a few words: action, material, amount.
fn one(step: &Value, shape: Option<&Shape>, units: UnitSystem) -> Markup {
    if let Some(text) = step["text"].as_str() {
        return in_full(step, text);
    }
    let stock = step["stock"].as_str().or(step["name"].as_str());
    let vessel = step["vessel"].as_str();
    let quantities = step.as_object().into_iter().flatten().filter_map(|(member, value)| {
        let Shape::Number(Some(row)) = shape?.member(member)? else { return None };
        // The strength of a stock is on its label; the load of a trip is in its heading.
        let loaded = ["trip", "batch", "sump"].iter().all(|member| step.get(*member).is_some());
        let known = (stock.is_some() || loaded) && member == "concentration";
        let shown = !known && !NOT_QUANTITIES.contains(&member.as_str());
        shown.then(|| quantity(value.as_f64(), row, units)).flatten()
    });
    html! {
        span {
            (in_words(step)) " "
            @if let Some(times) = step["times"].as_u64() { b { (times) " ×" } " " }
            @for name in stock.into_iter().chain(vessel) { i { (name) } " " }
            @for quantity in quantities { b { (quantity) } " " }
        }
    }
}

/// A step as its own sentence.
fn in_full(step: &Value, text: &str) -> Markup {
    html! {
        span {
            @if let Some(times) = step["times"].as_u64() { b { (times) " ×" } " " }
            (text) " "
        }
    }
}

/// The time of a line, if its steps have times.
fn time(line: &[&Value]) -> Markup {
    let minutes: f64 = line.iter().filter_map(|step| step["minutes"].as_f64()).sum();
    html! { @if minutes > 0.0 { small { (format!("{} min", minutes.ceil())) } } }
}

fn in_words(step: &Value) -> String {
    step["action"].as_str().unwrap_or_default().replace('_', " ")
}

/// A number for reading at arm's length: three digits, or more for large whole numbers.
fn quantity(number: Option<f64>, row: &Row, units: UnitSystem) -> Option<String> {
    let number = number?;
    let rounded = if number.abs() >= 100.0 { number.round() } else { round_to(number, 3) };
    let unit = row.units.in_system(units);
    let symbol = match unit.code {
        "%" => "%",
        "scale of the reading" => "on the scale",
        // On this sheet there is no other gallon.
        _ => unit.symbol.strip_prefix("US ").unwrap_or(unit.symbol),
    };
    Some(format!("{rounded} {symbol}").trim_end().to_owned())
}

/// The kinds of step that occur repeatedly with the same text, with that text.
fn repeated(steps: &[Value]) -> Vec<&Value> {
    let mut kinds: Vec<(&Value, usize, bool)> = Vec::new();
    for step in steps {
        match kinds.iter_mut().find(|(kind, ..)| kind["action"] == step["action"]) {
            Some((kind, times, alike)) => {
                *times += 1;
                *alike &= kind["text"] == step["text"];
            }
            None => kinds.push((step, 1, true)),
        }
    }
    let repeated = kinds.into_iter().filter(|(_, times, alike)| *times > 1 && *alike);
    repeated.map(|(kind, ..)| kind).collect()
}

/// The legend: the text of each such kind of step, once. Any other step has its text in its line.
fn meanings(steps: &[Value]) -> Markup {
    let only = only_vessels(steps);
    let vessel = |kind: &Value| only.get(kind["action"].as_str()?).copied().flatten();
    html! {
        dl {
            @for kind in repeated(steps) {
                div { dt {
                    (in_words(kind))
                    @if let Some(vessel) = vessel(kind) { " (" (vessel) ")" }
                } dd { (kind["text"].as_str().unwrap_or_default()) } }
            }
        }
    }
}

/// The findings and other facts that the reader must know first.
fn findings(record: &Value) -> Markup {
    let findings = record["findings"].as_array().into_iter().flatten();
    html! {
        @for finding in findings {
            p.finding { b { (severity(finding)) } " " (finding["text"].as_str().unwrap_or_default()) }
        }
    }
}

fn severity(finding: &Value) -> &'static str {
    match finding["severity"].as_str() {
        Some("act") => "Act first:",
        Some("watch") => "Watch:",
        _ => "Note:",
    }
}

fn cautions(record: &Value) -> Markup {
    let cautions = record["cautions"].as_array().into_iter().flatten();
    html! {
        footer {
        h2 { "Take care" }
        ul { @for caution in cautions { li { (caution["text"].as_str().unwrap_or_default()) } } }
        p {
            "The fluid's safety data sheet, local codes and licensed practice come before this \
             sheet."
        }
        }
    }
}

/// The usual paper size of each system of units.
const fn paper(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Metric => "@page { size: A4; margin: 8mm }\n",
        UnitSystem::Us => "@page { size: letter; margin: 0.3in }\n",
    }
}

const STYLE: &str = "\
body { font: 10.5px/1.2 Arial, 'Liberation Sans', sans-serif; color: #000; background: #fff; max-width: 200mm; margin: 0 auto }
h1 { font-size: 16px; margin: 0 0 .5mm }
h1 small { font-size: 11px; font-weight: normal; margin-left: 3mm }
h2 { font-size: 10.5px; margin: 0; border-bottom: 1.5px solid #000 }
h2 span, h2 small { font-weight: normal }
p.statement { font-size: 12.5px; font-weight: bold; margin: 0 0 1mm }
p.finding { margin: 0 0 1mm; padding-left: 2mm; border-left: 1mm solid #000 }
main.two { columns: 2; column-gap: 5mm }
main.one { font-size: 16px }
main.one b { font-size: 20px }
section { break-inside: avoid; margin-bottom: .7mm }
section p { margin: 0; padding: .18mm 0 .18mm 4mm; text-indent: -4mm; border-bottom: 1px solid #bbb }
section span { margin-right: 1.5mm }
b { font-size: 12px; white-space: nowrap }
strong, small { white-space: nowrap }
footer h2 { border: 0; font-size: 11px; margin-top: 1.5mm }
dl, ul { columns: 2; font-size: 8.5px; line-height: 1.2; margin: 1mm 0 0; padding: 0; column-gap: 5mm }
dl div, li { break-inside: avoid }
ul { padding-left: 3.5mm }
dt { font-weight: bold; display: inline }
dt::after { content: ': ' }
dd { display: inline; margin: 0 }
footer p { font-size: 8.5px; margin: .5mm 0 0 }
@media screen { body { padding: 5mm } }";
