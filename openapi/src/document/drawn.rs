//! What the document says of one calculation.

use serde_json::Value;

/// What the document says of one calculation.
pub(crate) struct Drawn {
    pub(crate) name: &'static str,
    pub(crate) summary: &'static str,
    pub(crate) description: String,
    pub(crate) example: Value,
    pub(crate) answer: Value,
    pub(crate) has_pictures: bool,
    pub(crate) has_sheet: bool,
    pub(crate) answer_list: Option<&'static str>,
    pub(crate) has_events: bool,
}
