//! What a query says about a table.

/// What a query says about a table.
#[derive(Debug, Clone, Default)]
pub struct TableOptions {
    /// Members that are the same for every row, by their path.
    pub everywhere: Vec<(String, String)>,
    /// The answer's columns. Default: those of the answers to the first rows.
    pub columns: Option<Vec<String>>,
    /// Whether the letters are those of windows-1252.
    pub latin: bool,
    /// Whether decimals are written with a comma. Default: as in the first rows.
    pub decimal_comma: Option<bool>,
}
