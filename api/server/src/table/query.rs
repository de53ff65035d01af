//! The options of a table in its query and its media type.

use crate::http::query;
use actix_web::HttpRequest;
use actix_web::http::header;
use sumpwright_openapi::document::QUERY_OPTIONS;
use sumpwright_openapi::problem::{FaultCode, Problem, ProblemKind};
use sumpwright_openapi::table::{HEADINGS_IN, TableOptions};

/// The options of a table in its query and its media type.
pub(super) fn options(request: &HttpRequest) -> Result<TableOptions, Problem> {
    let wrong = |detail: String| Problem::of_whole(FaultCode::UnknownWord, detail);
    let mut options = TableOptions::default();
    query::check(request.query_string())?;
    for (name, text) in form_urlencoded::parse(request.query_string().as_bytes()) {
        match (name.as_ref(), text.trim()) {
            (_, "") => {}
            ("columns", paths) => {
                options.columns =
                    Some(paths.split(',').map(|path| path.trim().to_owned()).collect());
            }
            ("decimal", "point") => options.decimal_comma = Some(false),
            ("decimal", "comma") => options.decimal_comma = Some(true),
            ("decimal", other) => {
                return Err(wrong(format!("decimal is {other:?}; it must be point or comma.")));
            }
            ("headings_in_row", row) => {
                let number = row.parse().ok().filter(|row| HEADINGS_IN.contains(row));
                options.headings_in_row = Some(number.ok_or_else(|| {
                    let (first, last) = (HEADINGS_IN.start(), HEADINGS_IN.end());
                    wrong(format!(
                        "headings_in_row is {row:?}; it must be a whole number from {first} to \
                         {last}."
                    ))
                })?);
            }
            _ => options.everywhere.push((name.into_owned(), text.into_owned())),
        }
    }
    let content_type = request.headers().get(header::CONTENT_TYPE);
    let content_type = content_type.and_then(|value| value.to_str().ok()).unwrap_or_default();
    for parameter in content_type.split(';').skip(1) {
        let Some((name, value)) = parameter.trim().split_once('=') else { continue };
        let value = value.trim_matches('"').to_ascii_lowercase();
        match (name.to_ascii_lowercase().as_str(), value.as_str()) {
            ("charset", "iso-8859-1" | "latin1" | "windows-1252" | "cp1252") => {
                options.latin = true;
            }
            ("charset", "utf-8" | "utf8" | "us-ascii") | ("header", "present") => {}
            ("charset", other) => {
                let detail =
                    format!("The charset {other} is not supported. Send UTF-8 or windows-1252.");
                return Err(Problem::plain(ProblemKind::UnsupportedMediaType, detail));
            }
            ("header", _) => {
                let detail = "A table needs headings: its first row names the members.";
                return Err(Problem::plain(ProblemKind::UnsupportedMediaType, detail));
            }
            _ => {}
        }
    }
    Ok(options)
}

/// Refuses options that apply to a single document.
pub(super) fn check_no_other(options: &TableOptions) -> Result<(), Problem> {
    let other = options.everywhere.iter().find(|(name, _)| QUERY_OPTIONS.contains(&name.as_str()));
    match other {
        None => Ok(()),
        Some((name, _)) => {
            let detail = format!(
                "{name}= is for a single document, not for a table. columns= names the \
                 columns of the answer."
            );
            Err(Problem::of_whole(FaultCode::UnknownMember, detail))
        }
    }
}
