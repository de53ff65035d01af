//! The options of a query besides the question: the values to pick and the format.

use super::format::{Format, is_table};
use crate::filing::{Besides, WORDS};
use actix_web::HttpRequest;
use actix_web::http::header::HeaderMap;
use std::borrow::Cow;
use sumpwright_engine::text::text_with_nearest;
use sumpwright_openapi::document::QUERY_OPTIONS;
use sumpwright_openapi::picture_width;
use sumpwright_openapi::problem::{FaultCode, Problem};
use sumpwright_openapi::service::{Extent, Service};

/// The options of a query besides the question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AnswerOptions {
    /// The paths of the values to answer with; none for the whole answer.
    pub picks: Vec<String>,
    /// The format of the answer.
    pub format: Format,
    /// Number of significant digits to show.
    pub digits: Option<i32>,
    /// Whether numbers in text, tables and pictures have a decimal comma.
    pub decimal_comma: bool,
    /// The width of pictures, in CSS pixels.
    pub width: u16,
    /// How much of the record is answered.
    pub extent: Extent,
    /// Whether a table asked, which is answered with a list where the answer is one.
    pub from_table: bool,
    /// What the record is given besides.
    pub besides: Besides,
}

/// What `problems` is where a problem is to be told in text.
pub(super) const AS_TEXT: &str = "as_text";

/// A member of the question: its path and its text.
pub type QueryMember<'a> = (&'a str, &'a str);

impl AnswerOptions {
    /// The whole answer in a format.
    #[must_use]
    pub const fn plain(format: Format) -> Self {
        Self {
            picks: Vec::new(),
            format,
            digits: None,
            decimal_comma: false,
            width: picture_width::DEFAULT,
            extent: Extent::Record,
            from_table: false,
            besides: Besides { units: false, digests: false },
        }
    }

    /// Whether a record goes out as it is, so that no tree is made of it.
    #[must_use]
    pub const fn is_plain(&self) -> bool {
        self.picks.is_empty() && self.digits.is_none() && !self.besides.any()
    }

    /// Splits a query into its options and the question.
    pub fn take<'a>(
        request: &HttpRequest,
        service: &Service,
        pairs: &'a [(Cow<'a, str>, Cow<'a, str>)],
    ) -> Result<(Self, Vec<QueryMember<'a>>), Problem> {
        let mut said: [Option<&str>; QUERY_OPTIONS.len()] = Default::default();
        let mut question = Vec::with_capacity(pairs.len());
        for (name, as_given) in pairs {
            // What is built from cells may have blank options, which count as not given, as in the question.
            let text = as_given.trim();
            match QUERY_OPTIONS.iter().position(|option| option == name) {
                Some(_) if text.is_empty() => {}
                Some(option) => {
                    if said[option].replace(text).is_some() {
                        let detail = format!("{name} is given twice in the query.");
                        return Err(Problem::of_whole(FaultCode::GivenTwice, detail));
                    }
                }
                None => question.push((name.as_ref(), as_given.as_ref())),
            }
        }
        let [pick, format, digits, problems, decimal, width, include] = said;
        let format = Self::format(request, service, format, pick.is_some())?;
        // Heeded where a problem goes out: see `http/cell.rs`.
        one_of("problems", problems, ["as_problem", AS_TEXT])?;
        let options = Self {
            extent: match (format, pick) {
                (Format::Json, None) => extent(request.headers()),
                _ => Extent::Record,
            },
            besides: include
                .map(|said| read_besides(said, format, pick))
                .transpose()?
                .unwrap_or_default(),
            picks: pick.map(read_paths).unwrap_or_default(),
            format,
            digits: digits.map(read_digits).transpose()?,
            decimal_comma: one_of("decimal", decimal, ["point", "comma"])?,
            width: width.map(read_width).transpose()?.unwrap_or(picture_width::DEFAULT),
            from_table: false,
        };
        Ok((options, question))
    }

    fn format(
        request: &HttpRequest,
        service: &Service,
        named: Option<&str>,
        one_value: bool,
    ) -> Result<Format, Problem> {
        if let Some(named) = named {
            let of_service = || Format::NAMED.iter().filter(|(_, format)| format.is_of(service));
            let whole = of_service().find(|(name, format)| *name == named && format.is_whole());
            if let Some((_, format)) = whole.filter(|_| one_value) {
                let what = if *format == Format::Pictures { "picture" } else { "calendar" };
                let detail = format!(
                    "A picked value has no {what}. Leave out pick or ask for a different format."
                );
                return Err(Problem::of_whole(FaultCode::Inconsistent, detail));
            }
            let known = of_service().filter(|(_, format)| !one_value || !format.is_whole());
            let found = known.clone().find(|(name, _)| *name == named);
            let names: Vec<&str> = known.map(|(name, _)| *name).collect();
            return found.map(|(_, format)| *format).ok_or_else(|| wrong("format", named, &names));
        }
        let mut offered = if one_value {
            vec![Format::Text, Format::Json, Format::Csv]
        } else {
            Format::offered(service)
        };
        // A table is answered as a table, unless the caller asks for something else.
        if !one_value && is_table(request.headers()) {
            offered.swap(0, 1);
        }
        Format::accepted(request, &offered)
    }
}

/// How much of the record the caller prefers (RFC 7240).
pub(crate) fn extent(headers: &HeaderMap) -> Extent {
    let said = headers.get_all("prefer").filter_map(|value| value.to_str().ok());
    let mut preferences = said.flat_map(|value| value.split(','));
    // Of a preference that is said twice the first one holds.
    let preferred = preferences.find_map(|preference| {
        let (name, value) = preference.split(';').next()?.split_once('=')?;
        name.trim().eq_ignore_ascii_case("return").then(|| value.trim().trim_matches('"'))
    });
    match preferred {
        Some(value) if value.eq_ignore_ascii_case("minimal") => Extent::Minimal,
        _ => Extent::Record,
    }
}

/// Whether the option has the second of two words; the first is its default.
fn one_of(option: &str, said: Option<&str>, words: [&str; 2]) -> Result<bool, Problem> {
    match said {
        None => Ok(false),
        Some(said) if said == words[0] => Ok(false),
        Some(said) if said == words[1] => Ok(true),
        Some(said) => Err(wrong(option, said, &words)),
    }
}

fn read_paths(text: &str) -> Vec<String> {
    text.split(',').map(|path| path.trim().to_owned()).collect()
}

fn read_besides(text: &str, format: Format, pick: Option<&str>) -> Result<Besides, Problem> {
    let mut besides = Besides::default();
    for word in text.split(',').map(str::trim) {
        match WORDS.iter().position(|known| *known == word) {
            Some(0) => besides.units = true,
            Some(_) => besides.digests = true,
            None => return Err(wrong("include", word, &WORDS)),
        }
    }
    if format != Format::Json || pick.is_some() {
        let detail = "include= adds to a whole record in JSON. Leave out pick, and ask for JSON.";
        return Err(Problem::of_whole(FaultCode::Inconsistent, detail));
    }
    Ok(besides)
}

fn read_digits(text: &str) -> Result<i32, Problem> {
    text.parse().ok().filter(|digits| (1..=17).contains(digits)).ok_or_else(|| {
        let detail = format!("digits is {text:?}; it must be a whole number from 1 to 17.");
        Problem::of_whole(FaultCode::WrongType, detail)
    })
}

fn read_width(text: &str) -> Result<u16, Problem> {
    let allowed = picture_width::LEAST..=picture_width::MOST;
    text.parse().ok().filter(|width| allowed.contains(width)).ok_or_else(|| {
        let (least, most) = (allowed.start(), allowed.end());
        let detail = format!(
            "width is {text:?}; it must be a whole number of pixels from {least} to {most}."
        );
        Problem::of_whole(FaultCode::WrongType, detail)
    })
}

fn wrong(option: &str, given: &str, known: &[&str]) -> Problem {
    let detail = format!("{option} is {given:?}; it must be one of {}.", known.join(", "));
    let detail = text_with_nearest(detail, given, known.iter().copied());
    Problem::of_whole(FaultCode::UnknownWord, detail)
}
