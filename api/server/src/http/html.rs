//! The policy for pages in a browser.

use actix_web::HttpResponseBuilder;
use actix_web::http::header;

/// The policy of a self-contained page in a browser: its own styles and nothing else.
pub(crate) const STILL: &str = "default-src 'none'; style-src 'unsafe-inline'; \
                                form-action 'none'; base-uri 'none'; frame-ancestors 'none'";

/// The headers that tell a browser the policy of a page, not to guess its type, and not
/// to send the address of the page to other sites.
pub(crate) fn guard(response: &mut HttpResponseBuilder, policy: &'static str) {
    response
        .insert_header((header::CONTENT_SECURITY_POLICY, policy))
        .insert_header((header::X_CONTENT_TYPE_OPTIONS, "nosniff"))
        .insert_header((header::REFERRER_POLICY, "no-referrer"));
}
