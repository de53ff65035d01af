//! What there is, a line each, with links.

use serde::{Deserialize, Serialize};
use sumpwright_engine::VERSION;
use utoipa::ToSchema;

/// What the service answers, and where.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct Index {
    /// The release that answers.
    #[schema(example = "0.2.0")]
    pub version: String,
    /// The OpenAPI document.
    #[schema(example = "/openapi.json")]
    pub openapi: String,
    /// The same for people, to try out.
    #[schema(example = "/docs")]
    pub docs: String,
    /// A line for each calculation.
    pub calculations: Vec<CalculationLink>,
}

/// One calculation.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct CalculationLink {
    /// Its name.
    #[schema(example = "top-up")]
    pub name: String,
    /// What it answers.
    pub summary: String,
    /// Where to post a document, or ask with the document in the query.
    #[schema(example = "/v1/top-up")]
    pub address: String,
    /// A complete request that works as it stands.
    #[schema(example = "/v1/top-up/example")]
    pub example: String,
}

impl Index {
    /// Lists calculations by their names and summaries.
    pub(crate) fn listing<'a>(calculations: impl Iterator<Item = (&'a str, &'a str)>) -> Self {
        let calculations = calculations.map(|(name, summary)| CalculationLink {
            name: name.to_owned(),
            summary: summary.to_owned(),
            address: format!("/v1/{name}"),
            example: format!("/v1/{name}/example"),
        });
        Self {
            version: VERSION.to_owned(),
            openapi: "/openapi.json".to_owned(),
            docs: "/docs".to_owned(),
            calculations: calculations.collect(),
        }
    }
}
