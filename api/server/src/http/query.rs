//! The query of an address as bytes that mean something: a letter that cannot be read is refused, as in a
//! document, and not replaced by another one.

use sumpwright_openapi::problem::{FaultCode, Problem};

/// Refuses a query that is not percent-encoded UTF-8.
pub(crate) fn check(query: &str) -> Result<(), Problem> {
    let refuse = |detail: String| Err(Problem::of_whole(FaultCode::WrongShape, detail));
    for pair in query.split('&') {
        let name = pair.split('=').next().unwrap_or(pair);
        let mut bytes = Vec::with_capacity(pair.len());
        let mut rest = pair.as_bytes();
        while let Some((first, after)) = rest.split_first() {
            rest = after;
            if *first != b'%' {
                bytes.push(*first);
                continue;
            }
            let byte = after.get(..2).and_then(|digits| std::str::from_utf8(digits).ok());
            // from_str_radix takes a sign too.
            let byte = byte.filter(|digits| digits.bytes().all(|digit| digit.is_ascii_hexdigit()));
            let Some(byte) = byte.and_then(|digits| u8::from_str_radix(digits, 16).ok()) else {
                return refuse(format!(
                    "In the query, after {name:?}, stands a % that two hexadecimal digits do not \
                     follow. A per cent sign is written as %25."
                ));
            };
            bytes.push(byte);
            rest = &after[2..];
        }
        if std::str::from_utf8(&bytes).is_err() {
            return refuse(format!(
                "In the query, what stands at {name:?} is not in UTF-8. Encode it as UTF-8: ä is %C3%A4."
            ));
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_letter_is_refused_and_not_replaced() {
        for sound in ["", "a=1&b", "reference=Fr%C3%A4se%207", "a=%25", "a+b=c+d", "a=ä"] {
            assert_eq!(check(sound), Ok(()), "{sound}");
        }
        for wrong in
            ["a=%ff%fe", "a=Fr%E4se", "a=%c0%af", "a=%ed%a0%80", "a=%zz", "a=%4", "a=5%", "a=%+1"]
        {
            let problem = check(wrong).expect_err(wrong);
            assert_eq!(problem.status, 400);
            assert!(problem.detail.contains("\"a\""), "{}", problem.detail);
        }
    }
}
