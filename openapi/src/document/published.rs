//! The OpenAPI document once it is drawn up, and what is read from it.

use super::compact;
use super::components::{Components, refer};
use serde_json::{Map, Value, json};
use sumpwright_engine::document::Shape;

/// The OpenAPI document, and what is read from it.
pub struct Published {
    pub(super) document: Value,
}

impl Published {
    /// The document as it is shipped.
    #[must_use]
    pub fn text(&self) -> String {
        compact::written(&self.document)
    }

    /// The shape of a component.
    #[must_use]
    pub fn shape(&self, component: &str) -> Shape {
        let none = Map::new();
        let components = self.components().unwrap_or(&none);
        Shape::of(&json!({ "$ref": refer(component) }), components)
    }

    fn components(&self) -> Option<&Components> {
        self.document["components"]["schemas"].as_object()
    }
}
