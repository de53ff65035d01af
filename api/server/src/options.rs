//! What a query may say besides the question: what to pick, in which format.

use crate::respond;
use crate::table::is_table;
use actix_web::HttpRequest;
use actix_web::http::Method;
use actix_web::http::header::{Accept, CONTENT_TYPE, Header};
use std::borrow::Cow;
use sumpwright_engine::text::nearest;
use sumpwright_openapi::document::QUERY_OPTIONS;
use sumpwright_openapi::problem::{Fault, Problem, ProblemKind};
use sumpwright_openapi::service::Service;
use sumpwright_openapi::steps::steps_of;

/// Formats that an answer comes in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// A document.
    Json,
    /// A name and a value a line.
    Csv,
    /// For people and cells.
    Text,
    /// A job sheet to print.
    Page,
    /// A picture to pin to a board.
    Picture,
}

impl Format {
    const NAMED: [(&str, Self); 4] =
        [("json", Self::Json), ("csv", Self::Csv), ("text", Self::Text), ("svg", Self::Picture)];

    /// The formats of an answer, the likeliest first.
    #[must_use]
    pub fn offered(service: &Service) -> Vec<Self> {
        let mut offered = vec![Self::Json, Self::Csv, Self::Text];
        if steps_of(&service.record).is_some() {
            offered.push(Self::Page);
        }
        if service.has_chart() {
            offered.push(Self::Picture);
        }
        offered
    }

    /// Its media type, without parameters.
    #[must_use]
    pub const fn media_type(self) -> &'static str {
        match self {
            Self::Json => "application/json",
            Self::Csv => "text/csv",
            Self::Text => "text/plain",
            Self::Page => "text/html",
            Self::Picture => "image/svg+xml",
        }
    }

    /// The first of `offered` that the caller accepts most gladly.
    #[must_use]
    pub fn accepted(request: &HttpRequest, offered: &[Self]) -> Option<Self> {
        let header = actix_web::http::header::ACCEPT;
        let Some(plain) = request.headers().get(&header) else { return offered.first().copied() };
        if plain.as_bytes() == b"*/*" {
            return offered.first().copied();
        }
        let Ok(accept) = Accept::parse(request) else { return offered.first().copied() };
        let zero = actix_web::http::header::Quality::ZERO;
        let refused = |range: &str| {
            let refused = accept.iter().filter(|entry| entry.quality == zero);
            refused.into_iter().any(|entry| entry.item.essence_str() == range)
        };
        accept.ranked().iter().find_map(|range| {
            offered.iter().copied().find(|format| {
                let kind = format.media_type();
                let (top, _) = kind.split_once('/').unwrap_or((kind, ""));
                let range = range.essence_str();
                let fits = range == kind || range == "*/*" || range == format!("{top}/*");
                fits && !refused(kind)
            })
        })
    }
}

/// What a query says besides the question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Options {
    /// The one value to answer with.
    pub pick: Option<String>,
    /// The format of the answer.
    pub format: Format,
    /// How many significant digits to show.
    pub digits: Option<i32>,
    /// Whether a problem is to look like an answer.
    pub problems_as_text: bool,
    /// Whether numbers in text and in tables have a decimal comma.
    pub decimal_comma: bool,
}

/// A path and its text.
pub type Pair<'a> = (&'a str, &'a str);

impl Options {
    /// Takes the options out of a query and leaves the question.
    pub fn take<'a>(
        request: &HttpRequest,
        service: &Service,
        pairs: &'a [(Cow<'a, str>, Cow<'a, str>)],
    ) -> Result<(Self, Vec<Pair<'a>>), Problem> {
        let mut said: [Option<&str>; QUERY_OPTIONS.len()] = Default::default();
        let mut question = Vec::with_capacity(pairs.len());
        // What a program posts is meant as it is; an address put together from cells has
        // blanks in it, which are not given, here as in the question.
        let as_it_is =
            request.method() == Method::POST && !is_table(request.headers().get(CONTENT_TYPE));
        for (name, as_given) in pairs {
            let text = if as_it_is { as_given.as_ref() } else { as_given.trim() };
            match QUERY_OPTIONS.iter().position(|option| option == name) {
                Some(_) if text.is_empty() && !as_it_is => {}
                Some(option) => {
                    if said[option].replace(text).is_some() {
                        let detail = format!("{name} is given twice in the query.");
                        return Err(Problem::new(ProblemKind::Malformed, Fault::new("", detail)));
                    }
                }
                None => question.push((name.as_ref(), as_given.as_ref())),
            }
        }
        let [pick, format, digits, problems, decimal] = said;
        let options = Self {
            pick: pick.map(str::to_owned),
            format: Self::format(request, service, format, pick.is_some())?,
            digits: digits.map(read_digits).transpose()?,
            problems_as_text: one_of("problems", problems, ["as_problem", "as_text"])?,
            decimal_comma: one_of("decimal", decimal, ["point", "comma"])?,
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
            if one_value && named == "svg" && service.has_chart() {
                let detail =
                    "One value cannot be drawn: leave out pick, or ask for another format.";
                return Err(Problem::new(ProblemKind::Inconsistent, Fault::new("", detail)));
            }
            let known = Format::NAMED.iter().filter(|(_, format)| {
                *format != Format::Picture || service.has_chart() && !one_value
            });
            let found = known.clone().find(|(name, _)| *name == named);
            let names: Vec<&str> = known.map(|(name, _)| *name).collect();
            return found.map(|(_, format)| *format).ok_or_else(|| wrong("format", named, &names));
        }
        let mut offered = if one_value {
            vec![Format::Text, Format::Json, Format::Csv]
        } else {
            Format::offered(service)
        };
        // What came as a table is answered as one, unless something else is asked for.
        if !one_value && is_table(request.headers().get(CONTENT_TYPE)) {
            offered.swap(0, 1);
        }
        Format::accepted(request, &offered).ok_or_else(|| respond::not_acceptable(&offered))
    }
}

/// Whether the second of two words is said; the first is what happens without.
fn one_of(option: &str, said: Option<&str>, words: [&str; 2]) -> Result<bool, Problem> {
    match said {
        None => Ok(false),
        Some(said) if said == words[0] => Ok(false),
        Some(said) if said == words[1] => Ok(true),
        Some(said) => Err(wrong(option, said, &words)),
    }
}

fn read_digits(text: &str) -> Result<i32, Problem> {
    text.parse().ok().filter(|digits| (1..=17).contains(digits)).ok_or_else(|| {
        let detail = format!("digits is {text:?}; a whole number from 1 to 17 belongs there.");
        Problem::new(ProblemKind::Malformed, Fault::new("", detail))
    })
}

fn wrong(option: &str, given: &str, known: &[&str]) -> Problem {
    let near = nearest(given, known.iter().copied());
    let near = near.map(|near| format!(" Did you mean {near:?}?")).unwrap_or_default();
    let known = known.join(", ");
    let detail = format!("{option} is {given:?}; one of {known} belongs there.{near}");
    Problem::new(ProblemKind::Malformed, Fault::new("", detail))
}
