//! Writes an answer in the format that its query asks for.

use super::format::Format;
use super::options::AnswerOptions;
use serde_json::Value;
use sumpwright_engine::numerics::digits::round_to;
use sumpwright_engine::text::text_with_nearest;
use sumpwright_openapi::envelope::STATEMENT;
use sumpwright_openapi::flat::{self, names_and_values};
use sumpwright_openapi::guarded::guarded;
use sumpwright_openapi::problem::{FaultCode, Problem};
use sumpwright_openapi::service::{Extent, PicturesToDraw, Service, brief};
use sumpwright_openapi::uncertain;
use sumpwright_render::{Manner, sheet};

/// The answer to a document, in the format its query asks for.
pub fn of_document(
    service: &Service,
    document: &[u8],
    options: &AnswerOptions,
) -> Result<Vec<u8>, Problem> {
    guarded(|| match options.format {
        Format::Pictures => Ok(drawn(&service.pictures(document)?, options)),
        Format::JobSheet => Ok(sheet::page(&service.sheet(document)?).into_bytes()),
        Format::Json if options.pick.is_none() && options.digits.is_none() => {
            service.answer_to(document, options.extent)
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
        Format::JobSheet => Ok(sheet::page(&service.sheet_flat(members)?).into_bytes()),
        _ => of_record(service.answer_flat(members)?, service, options),
    })
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
    if let Some(path) = &options.pick {
        let known = service.record.has_path(path);
        record = match flat::pick(&record, path) {
            Some(value) => value.clone(),
            // A member that is absent from this answer is an empty cell.
            None if known => Value::String(String::new()),
            None => return Err(nothing_to_pick(path, &record)),
        };
    }
    if let Some(digits) = options.digits {
        round(&mut record, digits);
    }
    if options.extent == Extent::Minimal {
        record = brief(record);
    }
    Ok(match options.format {
        Format::Csv => names_and_values(&record, options.decimal_comma),
        Format::Text => plain(&record, service, options.decimal_comma).into_bytes(),
        // Pages are drawn from their own data, and never come here.
        Format::Json | Format::Ndjson | Format::JsonLines | Format::Pictures | Format::JobSheet => {
            record.to_string().into_bytes()
        }
    })
}

fn nothing_to_pick(path: &str, record: &Value) -> Problem {
    let leaves = flat::flatten(record);
    let detail = format!("pick: the answer has no member {path:?}.");
    let detail = text_with_nearest(detail, path, leaves.iter().map(|(path, _)| path.as_str()));
    Problem::of_whole(FaultCode::Inconsistent, detail)
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
