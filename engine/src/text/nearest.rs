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

/// The question whether a known name was meant.
#[must_use]
pub fn was_meant(near: &str) -> String {
    format!("Did you mean {near:?}?")
}

/// The same of the known name nearest to a misspelt one, if one is near enough.
pub fn did_you_mean<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Option<String> {
    nearest(name, known).map(was_meant)
}

/// `detail` and the question after it, if a known name is near enough.
pub fn with_nearest<'a>(
    detail: impl Into<String>,
    name: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> String {
    let detail = detail.into();
    match did_you_mean(name, known) {
        Some(question) => format!("{detail} {question}"),
        None => detail,
    }
}
