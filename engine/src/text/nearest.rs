//! "Did you mean": the known name nearest to a misspelt one.

/// The known name nearest to a misspelt one, if one is near enough to suggest.
pub fn nearest<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    const NEAR: f64 = 0.8;
    known
        .into_iter()
        .map(|candidate| (strsim::jaro_winkler(name, candidate), candidate))
        .filter(|(likeness, _)| *likeness >= NEAR)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, candidate)| candidate)
}

/// `detail` with the known name nearest to a misspelt one, if one is near enough.
pub(crate) fn with_nearest<'a>(
    detail: String,
    name: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> String {
    match nearest(name, known) {
        Some(near) => format!("{detail} Did you mean {near:?}?"),
        None => detail,
    }
}
