//! The spellings of an address that some code might take for a different one.

/// The spellings of a path, itself among them.
pub(super) fn spellings(path: &str) -> Vec<String> {
    let mut all = vec![path.to_owned(), path.to_uppercase()];
    let encoded = |c: u8| format!("%{c:02X}");
    // Each character encoded alone, and once more; then all of them.
    for (at, c) in path.bytes().enumerate() {
        let (before, after) = (&path[..at], &path[at + 1..]);
        all.push(format!("{before}{}{after}", encoded(c)));
        // The others at every third place.
        if at % 3 == 1 {
            let upper = char::from(c).to_ascii_uppercase().to_string();
            let others = [encoded(c).to_lowercase(), format!("%25{c:02X}"), upper];
            all.extend(others.map(|other| format!("{before}{other}{after}")));
        }
        if c == b'/' {
            let slashes =
                ["//", "/./", "/../", "/x/../", "/%2e/", "/%2E%2e/", "\\", "/;/", "/;x=1/", "%5C"];
            all.extend(slashes.map(|slash| format!("{before}{slash}{after}")));
        }
    }
    let letters = |keep: &str| -> String {
        path.bytes()
            .map(|c| if keep.contains(char::from(c)) { char::from(c).into() } else { encoded(c) })
            .collect()
    };
    all.extend([letters("/"), letters("").replacen("%2F", "/", 1)]);
    let ends = [
        "/",
        "//",
        "/.",
        "/..",
        ".",
        "..",
        ";",
        ";x",
        ";jsessionid=1",
        "%00",
        "%20",
        "%09",
        "%0A",
        "%0d%0a",
        "%3F",
        "%3Fx",
        "%23",
        "%2F",
        "%2f..",
        "%2e",
        "?",
        "?x=/docs/",
        "#",
        "#/docs/",
        "%",
        "%7",
        "%zz",
        "%c0%af",
        "%ff",
        "~",
        "*",
        ".json",
        "/example",
        "/%65xample",
        "+",
        "%2B",
    ];
    all.extend(ends.map(|end| format!("{path}{end}")));
    let starts = [
        "/",
        "//",
        "/.",
        "/./",
        "/..",
        "/../..",
        "/docs/..",
        "/docs/%2e%2e",
        "/docs/..;",
        "/;",
        "/page/..",
        "/openapi.json/..",
        "/livez/..",
        "/%2e",
        "/%00",
        "%2F",
        "/%2F",
        "/v1/..",
        "http://elsewhere.example",
        "HTTP://elsewhere.example:80",
        "https://u:p@elsewhere.example",
        "http://elsewhere.example/",
        "//elsewhere.example",
    ];
    all.extend(starts.map(|start| format!("{start}{path}")));
    all
}
