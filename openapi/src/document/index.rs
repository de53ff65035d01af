//! The list of calculations, one line for each, with links.

use serde::{Deserialize, Serialize};
use sumpwright_engine::VERSION;
use utoipa::ToSchema;

/// The calculations of the service, and their addresses.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[schema(as = CalculationIndex)]
pub struct Index {
    /// Version of the service.
    #[schema(example = "0.2.0")]
    pub version: String,
    /// Address of the OpenAPI document.
    #[schema(example = "/openapi.json")]
    pub openapi: String,
    /// Address of the interactive documentation.
    #[schema(example = "/docs")]
    pub docs: String,
    /// The calculations.
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
    /// Address to POST a request to, or to GET with the request in the query.
    #[schema(example = "/v1/top-up")]
    pub address: String,
    /// Address of a complete example request.
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
