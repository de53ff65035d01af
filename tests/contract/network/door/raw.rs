//! A connection that sends a request exactly as written; an ordinary client would
//! normalise it.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::time::Duration;

/// A connection, opened again whenever the server has closed it.
pub(super) struct Line {
    host: String,
    open: Option<BufReader<TcpStream>>,
}

/// A response.
pub(super) struct Answer {
    pub(super) status: u16,
    headers: Vec<(String, String)>,
    pub(super) body: Vec<u8>,
}

impl Answer {
    pub(super) fn header(&self, name: &str) -> Option<&str> {
        self.headers.iter().find(|(own, _)| own == name).map(|(_, value)| value.as_str())
    }

    pub(super) fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }
}

impl Line {
    pub(super) fn to(host: &str) -> Self {
        Self { host: host.to_owned(), open: None }
    }

    /// Sends a request without a body, and waits for its answer.
    pub(super) fn ask(&mut self, method: &str, target: &str, version: &str) -> Answer {
        let head = format!("{method} {target} HTTP/{version}\r\nhost: {}\r\n\r\n", self.host);
        let kept = self.open.take();
        // A connection that was kept may have been closed in the meantime.
        kept.and_then(|line| self.send(line, method, &head))
            .or_else(|| self.send(self.connect(), method, &head))
            .unwrap_or_else(|| panic!("no answer to {head}"))
    }

    fn connect(&self) -> BufReader<TcpStream> {
        let line = TcpStream::connect(&self.host).expect("it listens");
        line.set_read_timeout(Some(Duration::from_secs(20))).expect("a time");
        line.set_nodelay(true).expect("it can be said");
        BufReader::new(line)
    }

    fn send(&mut self, mut line: BufReader<TcpStream>, method: &str, head: &str) -> Option<Answer> {
        line.get_mut().write_all(head.as_bytes()).ok()?;
        let mut first = String::new();
        line.read_line(&mut first).ok().filter(|read| *read > 0)?;
        let status = first.split(' ').nth(1)?.parse().ok()?;
        let mut headers = Vec::new();
        loop {
            let mut field = String::new();
            line.read_line(&mut field).ok()?;
            let Some((name, value)) = field.trim_end().split_once(':') else { break };
            headers.push((name.to_ascii_lowercase(), value.trim().to_owned()));
        }
        let mut answer = Answer { status, headers, body: Vec::new() };
        let length = answer.header("content-length").and_then(|length| length.parse().ok());
        if method != "HEAD" {
            answer.body = vec![0; length.unwrap_or(0)];
            line.read_exact(&mut answer.body).ok()?;
        }
        let closes = answer.header("connection") == Some("close") || !head.contains("HTTP/1.1");
        if !closes {
            self.open = Some(line);
        }
        Some(answer)
    }
}
