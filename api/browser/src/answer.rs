//! Answers a document as the service does.

use std::sync::LazyLock;
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::catalogue::{Catalogue, Everything, Visitor};
use sumpwright_openapi::problem::{Problem, ProblemKind};
use sumpwright_openapi::service::Services;
use sumpwright_render::{Manner, icalendar, sheet, svg};

static SERVICES: LazyLock<Services> = LazyLock::new(Services::new);

/// The answer of a calculation to a document, in a form that is named by its media type; behind a
/// question mark stand the options of pictures, as in an address.
pub(crate) fn answer(calculation: &str, document: &[u8], form: &str) -> Result<Vec<u8>, Problem> {
    let service = SERVICES.get(calculation).ok_or_else(|| SERVICES.unknown(calculation))?;
    let (form, options) = form.split_once('?').unwrap_or((form, ""));
    match form {
        "application/json" => service.answer(document),
        "text/html" => Ok(sheet::page(&service.sheet(document)?).into_bytes()),
        "text/calendar" => Ok(icalendar::text(&service.events(document)?).into_bytes()),
        "image/svg+xml" => Ok(svg(&service.pictures(document)?, manner(options)).into_bytes()),
        _ => Err(Problem::plain(
            ProblemKind::NotAcceptable,
            format!(
                "Without the service this device answers as JSON, as a picture, as a calendar and as a job sheet, and no {form}."
            ),
        )),
    }
}

/// How pictures are drawn, by options as in an address; what is no option of theirs is passed over.
fn manner(options: &str) -> Manner {
    let mut manner = Manner::default();
    for (name, value) in options.split('&').filter_map(|option| option.split_once('=')) {
        match name {
            "width" => manner.width = value.parse().unwrap_or(manner.width),
            "decimal" => manner.decimal_comma = value == "comma",
            _ => {}
        }
    }
    manner
}

/// A request that a calculation answers as it stands.
pub(crate) fn example(calculation: &str) -> Result<Vec<u8>, Problem> {
    // Without the services: a form is to be drawn before they are built.
    let mut wanted = Wanted { calculation, example: None };
    Everything.show(&mut wanted);
    let found = wanted.example.map(|example| example.as_bytes().to_vec());
    found.ok_or_else(|| SERVICES.unknown(calculation))
}

struct Wanted<'a> {
    calculation: &'a str,
    example: Option<&'static str>,
}

impl Visitor for Wanted<'_> {
    fn visit<C: Calculation>(&mut self) {
        if C::NAME == self.calculation {
            self.example = Some(C::EXAMPLE);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_example_is_answered_as_the_service_answers_it() {
        for service in SERVICES.iter() {
            let document = example(service.name).expect("there is one");
            assert_eq!(document, service.example.as_bytes());
            let answered = answer(service.name, &document, "application/json");
            assert_eq!(answered, service.answer(service.example.as_bytes()), "{}", service.name);
            assert!(answered.is_ok(), "{}", service.name);
        }
    }

    #[test]
    fn pictures_are_drawn_as_wide_as_asked() {
        let document = example("top-up").expect("there is one");
        let drawn = answer("top-up", &document, "image/svg+xml?width=360&decimal=comma");
        let drawn = String::from_utf8(drawn.expect("a picture")).expect("text");
        assert!(drawn.contains("width=\"360\""), "{drawn}");
    }

    #[test]
    fn a_job_sheet_is_made_as_the_service_makes_it() {
        let document = example("top-up").expect("there is one");
        let made = answer("top-up", &document, "text/html").expect("a sheet");
        assert!(String::from_utf8(made).expect("text").contains("type=\"checkbox\""));
    }

    #[test]
    fn what_cannot_be_answered_is_the_problem_that_the_service_has() {
        let status = |answered: Result<Vec<u8>, Problem>| answered.expect_err("a problem").status;
        assert_eq!(status(answer("top-upp", b"{}", "application/json")), 404);
        assert_eq!(status(example("top-upp")), 404);
        assert_eq!(status(answer("top-up", b"{", "application/json")), 400);
        assert_eq!(status(answer("top-up", b"{}", "text/plain")), 406);
    }
}
