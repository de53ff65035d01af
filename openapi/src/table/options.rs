//! What a query says about a table.

/// What a query says about a table.
#[derive(Debug, Clone, Default)]
pub struct TableOptions {
    /// Members that are the same for every row, by their path.
    pub everywhere: Vec<(String, String)>,
    /// The answer's columns; those that the first rows' answers have when left out.
    pub columns: Option<Vec<String>>,
    /// Whether the letters are those of windows-1252.
    pub latin: bool,
    /// Whether decimals are written with a comma; seen from the first rows when left out.
    pub decimal_comma: Option<bool>,
}
