//! Tells a person in a browser what a program is told as a problem document.
//!
//! A browser that opens an address asks for a page first, and for anything else only after it
//! (`text/html,application/xhtml+xml,…`); a program that wants a job sheet names `text/html`
//! alone and is told its problems as any other program is.

use super::html;
use crate::observability::metrics::RequestOutcome;
use actix_web::body::MessageBody;
use actix_web::dev::ServiceResponse;
use actix_web::http::{Method, header};
use actix_web::{HttpRequest, HttpResponse};
use maud::{Markup, html};
use sumpwright_openapi::problem::{MEDIA_TYPE, Problem};
use sumpwright_render::shell;

/// What goes over from the problem's response to the page's, beside the status.
const KEPT: [header::HeaderName; 4] =
    [header::ALLOW, header::RETRY_AFTER, header::WWW_AUTHENTICATE, header::CACHE_CONTROL];

/// Whether a response is a problem that a person in a browser would see.
pub(super) fn sees<B>(response: &ServiceResponse<B>) -> bool {
    let kind = response.headers().get(header::CONTENT_TYPE);
    response.status().as_u16() >= 400
        && kind.is_some_and(|kind| kind == MEDIA_TYPE)
        && opens_a_page(response.request())
}

/// Whether a browser opens the address to show it.
fn opens_a_page(request: &HttpRequest) -> bool {
    let accepted = request.headers().get(header::ACCEPT).and_then(|value| value.to_str().ok());
    request.method() == Method::GET
        && accepted.is_some_and(|types| {
            types.starts_with("text/html") && types.contains("application/xhtml+xml")
        })
}

/// The problem as a page, with the same status.
pub(super) fn page<B: MessageBody>(response: ServiceResponse<B>) -> ServiceResponse {
    let (request, response) = response.into_parts();
    let outcome = response.extensions().get::<RequestOutcome>().copied();
    let mut page = HttpResponse::build(response.status());
    for name in KEPT {
        if let Some(value) = response.headers().get(&name) {
            page.insert_header((name, value.clone()));
        }
    }
    html::guard(&mut page, html::STILL);
    page.insert_header((header::VARY, "Accept")).content_type("text/html; charset=utf-8");
    let bytes = response.into_body().try_into_bytes().unwrap_or_default();
    let text = match serde_json::from_slice::<Problem>(&bytes) {
        Ok(problem) => shell(&problem.title, STYLE, &body(&problem)),
        Err(_) => shell("Sumpwright", STYLE, &html! { h1 { "This did not work" } }),
    };
    let mut page = page.body(text);
    if let Some(outcome) = outcome {
        page.extensions_mut().insert(outcome);
    }
    ServiceResponse::new(request, page)
}

fn body(problem: &Problem) -> Markup {
    let more = problem.errors.iter().filter(|fault| fault.detail != problem.detail);
    html! {
        h1 { (problem.title) }
        p { (problem.detail) }
        @for fault in more { p { (fault.detail) } }
        p { a href="/" { "Open the page with the forms" } }
        p { small {
            "Status " (problem.status) ". For programs: "
            a href="/docs/" { "the interface" } ", "
            a href=(problem.r#type) { "this type of problem" } "."
        } }
    }
}

const STYLE: &str = ":root { color-scheme: light dark } \
    body { font: 1.15rem/1.5 system-ui, sans-serif; max-width: 40rem; margin: 2rem auto; \
           padding: 0 1rem; overflow-wrap: anywhere } \
    h1 { line-height: 1.15 } p:has(> a:only-child) a { display: inline-block; padding: .8rem 0 }";

#[cfg(test)]
mod tests {
    use super::*;
    use actix_web::test::TestRequest;

    #[test]
    fn a_browser_opens_a_page_and_a_program_asks_for_a_sheet() {
        let asks = |accept: &str| {
            let request = TestRequest::get().insert_header((header::ACCEPT, accept));
            opens_a_page(&request.to_http_request())
        };
        assert!(asks("text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8"));
        assert!(!asks("text/html"));
        assert!(!asks("*/*"));
        assert!(!asks("application/json"));
    }
}
