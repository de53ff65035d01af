//! The OpenAPI document once it is drawn up, and what is read from it.

use super::compact;
use super::components::{Components, refer, references};
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

    /// A validator for a component, by the published document itself.
    ///
    /// # Panics
    ///
    /// When the component is not a schema, which the tests rule out.
    #[must_use]
    pub fn validator(&self, component: &str) -> jsonschema::Validator {
        let schema = json!({
            "$schema": "https://json-schema.org/draft/2020-12/schema",
            "$ref": refer(component),
            "components": { "schemas": self.with_what_it_names(component) },
        });
        jsonschema::validator_for(&schema).expect("every published component is a schema")
    }

    /// A component and all that it refers to, however far: a validator of all
    /// components takes megabytes for each calculation.
    fn with_what_it_names(&self, component: &str) -> Components {
        let mut kept = Components::new();
        let mut due = vec![component.to_owned()];
        while let Some(name) = due.pop() {
            let schema = self.components().and_then(|components| components.get(&name));
            if let Some(schema) = schema
                && !kept.contains_key(&name)
            {
                references(schema, &mut due);
                kept.insert(name, schema.clone());
            }
        }
        kept
    }

    fn components(&self) -> Option<&Components> {
        self.document["components"]["schemas"].as_object()
    }
}
