//! Answers a document as the service does.

use std::sync::LazyLock;
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::catalogue::{Catalogue, Everything, Visitor};
use sumpwright_openapi::problem::{Problem, ProblemKind};
use sumpwright_openapi::service::Services;

static SERVICES: LazyLock<Services> = LazyLock::new(Services::new);

/// The answer of a calculation to a document, in a form that is named by its media type.
pub(crate) fn answer(calculation: &str, document: &[u8], form: &str) -> Result<Vec<u8>, Problem> {
    let service = SERVICES.get(calculation).ok_or_else(|| SERVICES.unknown(calculation))?;
    match form {
        "application/json" => service.answer(document),
        _ => Err(Problem::plain(
            ProblemKind::NotAcceptable,
            format!("Without the service this device answers numbers and words, and no {form}."),
        )),
    }
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
    fn what_cannot_be_answered_is_the_problem_that_the_service_has() {
        let status = |answered: Result<Vec<u8>, Problem>| answered.expect_err("a problem").status;
        assert_eq!(status(answer("top-upp", b"{}", "application/json")), 404);
        assert_eq!(status(example("top-upp")), 404);
        assert_eq!(status(answer("top-up", b"{", "application/json")), 400);
        assert_eq!(status(answer("top-up", b"{}", "text/plain")), 406);
    }
}
