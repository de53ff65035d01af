//! Writes an answer in the format that its query asks for.

use super::format::Format;
use super::options::AnswerOptions;
use serde_json::Value;
use sumpwright_engine::numerics::digits::round_to;
use sumpwright_engine::text::text_with_nearest;
use sumpwright_openapi::envelope::STATEMENT;
use sumpwright_openapi::flat::{self, names_and_values};
use sumpwright_openapi::guarded::guarded;
use sumpwright_openapi::problem::{FaultCode, Problem, RequestFault};
use sumpwright_openapi::service::{Extent, PicturesToDraw, Service, brief};
use sumpwright_openapi::table::answered;
use sumpwright_openapi::{tree, uncertain};
use sumpwright_render::{Manner, icalendar, sheet};

/// The answer to a document, in the format its query asks for.
pub fn of_document(
    service: &Service,
    document: &[u8],
    options: &AnswerOptions,
) -> Result<Vec<u8>, Problem> {
    guarded(|| match options.format {
        Format::Pictures => Ok(drawn(&service.pictures(document)?, options)),
        Format::Events => Ok(icalendar::text(&service.events(document)?).into_bytes()),
        Format::JobSheet => Ok(sheet::page(&service.sheet(document)?).into_bytes()),
        Format::Json if options.is_plain() => service.answer_to(document, options.extent),
        Format::Json if options.besides.any() => {
            let question = tree::parse(document)?;
            with_besides(service, &question, options)
        }
        _ => {
            let record = serde_json::from_slice(&service.answer(document)?).unwrap_or_default();
            of_record(record, service, options)
        }
    })
}

/// The answer to a document in its flat form, in the format its query asks for.
pub fn of_members<'a>(
    service: &Service,
    members: impl IntoIterator<Item = (&'a str, &'a str)>,
    options: &AnswerOptions,
) -> Result<Vec<u8>, Problem> {
    guarded(|| match options.format {
        Format::Pictures => Ok(drawn(&service.pictures_flat(members)?, options)),
        Format::Events => Ok(icalendar::text(&service.events_flat(members)?).into_bytes()),
        Format::JobSheet => Ok(sheet::page(&service.sheet_flat(members)?).into_bytes()),
        Format::Json if options.besides.any() => {
            with_besides(service, &flat::unflatten(members, &service.question)?, options)
        }
        _ => of_record(service.answer_flat(members)?, service, options),
    })
}

/// The record of a question, with what it is given besides.
fn with_besides(
    service: &Service,
    question: &Value,
    options: &AnswerOptions,
) -> Result<Vec<u8>, Problem> {
    let mut record = service.answer_tree(question.clone())?;
    if let Some(digits) = options.digits {
        round(&mut record, digits);
    }
    let mut coded = record.clone();
    options.besides.add(&mut coded, question, service);
    if options.extent == Extent::Minimal {
        let mut brief = brief(record);
        for member in ["unit_codes", "digests"] {
            if let Some(value) = coded.get(member) {
                brief[member] = value.clone();
            }
        }
        coded = brief;
    }
    Ok(coded.to_string().into_bytes())
}

/// The pictures of an answer, drawn as its query asks.
fn drawn(pictures: &PicturesToDraw, options: &AnswerOptions) -> Vec<u8> {
    let manner = Manner { width: options.width, decimal_comma: options.decimal_comma };
    sumpwright_render::svg(pictures, manner).into_bytes()
}

fn of_record(
    mut record: Value,
    service: &Service,
    options: &AnswerOptions,
) -> Result<Vec<u8>, Problem> {
    match options.picks.as_slice() {
        [] => {}
        [path] => record = picked(&record, path, service).map_err(Problem::new)?,
        several => return of_several(&record, several, service, options),
    }
    if let Some(digits) = options.digits {
        round(&mut record, digits);
    }
    if options.extent == Extent::Minimal {
        record = brief(record);
    }
    Ok(match options.format {
        Format::Csv if options.from_table && options.picks.is_empty() => {
            answered(service, &record, options.decimal_comma)
        }
        Format::Csv => names_and_values(&record, options.decimal_comma),
        Format::Text => plain(&record, service, options.decimal_comma).into_bytes(),
        // Pages are drawn from their own data, and never come here.
        Format::Json
        | Format::Ndjson
        | Format::JsonLines
        | Format::Pictures
        | Format::JobSheet
        | Format::Events => record.to_string().into_bytes(),
    })
}

/// The value at a path; an empty text where this answer has none.
fn picked(record: &Value, path: &str, service: &Service) -> Result<Value, RequestFault> {
    match flat::pick(record, path) {
        Some(value) => Ok(value.clone()),
        // A member that is absent from this answer is an empty cell.
        None if service.record.has_path(path) => Ok(Value::String(String::new())),
        None => {
            let leaves = flat::flatten(record);
            let detail = format!("pick: the answer has no member {path:?}.");
            let known = leaves.iter().map(|(path, _)| path.as_str());
            let detail = text_with_nearest(detail, path, known);
            Err(RequestFault::new(FaultCode::Inconsistent, "", detail))
        }
    }
}

/// Several values in the order of their paths: in text a line each, so that a spreadsheet can
/// split one cell into many.
fn of_several(
    record: &Value,
    paths: &[String],
    service: &Service,
    options: &AnswerOptions,
) -> Result<Vec<u8>, Problem> {
    let (mut values, mut faults) = (Vec::with_capacity(paths.len()), Vec::new());
    for path in paths {
        match picked(record, path, service) {
            Ok(value) if value.is_object() || value.is_array() => {
                let detail = format!(
                    "pick: {path:?} contains several values. Where several are picked, each is one."
                );
                faults.push(RequestFault::new(FaultCode::Inconsistent, "", detail));
            }
            Ok(value) => values.push(value),
            Err(fault) => faults.push(fault),
        }
    }
    if !faults.is_empty() {
        return Err(Problem::with_faults(faults));
    }
    if let Some(digits) = options.digits {
        values.iter_mut().for_each(|value| round(value, digits));
    }
    Ok(match options.format {
        Format::Text => {
            let line = |value| flat::shown(value, options.decimal_comma).replace(['\r', '\n'], " ");
            values.iter().map(line).collect::<Vec<_>>().join("\n").into_bytes()
        }
        Format::Csv => {
            let named = paths.iter().cloned().zip(values);
            names_and_values(&Value::Object(named.collect()), options.decimal_comma)
        }
        _ => Value::Array(values).to_string().into_bytes(),
    })
}

fn round(value: &mut Value, digits: i32) {
    match value {
        Value::Number(number) => {
            let rounded = number.as_f64().map(|full| round_to(full, digits));
            if let Some(rounded) = rounded.and_then(serde_json::Number::from_f64) {
                *number = rounded;
            }
        }
        Value::Array(entries) => entries.iter_mut().for_each(|entry| round(entry, digits)),
        Value::Object(members) => members.values_mut().for_each(|member| round(member, digits)),
        _ => {}
    }
}

/// Lines for a person, the statement first. The uncertainty of a number follows
/// the number.
fn plain(value: &Value, service: &Service, decimal_comma: bool) -> String {
    if !value.is_object() && !value.is_array() {
        return flat::shown(value, decimal_comma);
    }
    let how_sure = uncertain::in_words(value, &service.record);
    let lines = flat::flatten(value).into_iter().filter_map(|(path, leaf)| {
        if path == STATEMENT || path.starts_with(uncertain::NUMBERS) {
            return None;
        }
        let words = how_sure.iter().find(|(own, _)| *own == path).map(|(_, words)| words);
        let shown = flat::shown(leaf, decimal_comma);
        Some(match words {
            Some(words) => format!("{path}: {shown} ({words})"),
            None => format!("{path}: {shown}"),
        })
    });
    let statement = value[STATEMENT].as_str().filter(|statement| !statement.is_empty());
    statement.map(str::to_owned).into_iter().chain(lines).collect::<Vec<_>>().join("\n")
}
