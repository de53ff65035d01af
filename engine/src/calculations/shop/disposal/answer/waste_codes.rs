//! The part of the answer on codes of the European list of waste.

use super::super::stream::WasteStream;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use utoipa::ToSchema;

/// Codes that may fit a stream.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CodesToConfirm {
    /// # Stream
    ///
    /// The stream.
    pub stream: WasteStream,
    /// # Candidates
    ///
    /// Candidates, for the generator and its authority to confirm or to reject.
    pub candidates: Vec<CodeCandidate>,
}

/// A code of the European list of waste that may fit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct CodeCandidate {
    /// # Code
    ///
    /// The code, with an asterisk where the list calls it hazardous.
    #[schema(example = "12 01 09*")]
    pub code: Cow<'static, str>,
    /// # Wording
    ///
    /// Wording of the list.
    #[schema(example = "machining emulsions and solutions free of halogens")]
    pub text: Cow<'static, str>,
}
