//! The shell of a page that is complete in itself, and what a page may do in a browser.

use actix_web::HttpResponseBuilder;
use actix_web::http::header;
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// What a page complete in itself may do in a browser: be looked at, in its own style.
pub(crate) const STILL: &str = "default-src 'none'; style-src 'unsafe-inline'; \
                                form-action 'none'; base-uri 'none'; frame-ancestors 'none'";

/// Tells a browser what a page may do, to take its type as it is said, and not
/// to tell others where a reader came from.
pub(crate) fn guard(response: &mut HttpResponseBuilder, policy: &'static str) {
    response
        .insert_header((header::CONTENT_SECURITY_POLICY, policy))
        .insert_header((header::X_CONTENT_TYPE_OPTIONS, "nosniff"))
        .insert_header((header::REFERRER_POLICY, "no-referrer"));
}

/// A page for a person, complete in itself.
#[must_use]
pub fn shell(title: &str, style: &str, body: &Markup) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width";
                title { (title) }
                style { (PreEscaped(style)) }
            }
            body { (body) }
        }
    };
    page.into_string()
}
