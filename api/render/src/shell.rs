//! The shell of a self-contained page.

use maud::{DOCTYPE, Markup, PreEscaped, html};

/// A self-contained page for a person.
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
