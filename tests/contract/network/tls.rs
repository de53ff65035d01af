//! TLS with a certificate from files: read again when it changes, refused when it
//! has expired.

use super::{Program, refuses};
use crate::server::{client, header};
use rcgen::{CertificateParams, KeyPair, date_time_ymd};
use reqwest::blocking::Client;
use rustls::pki_types::ServerName;
use rustls::pki_types::pem::PemObject;
use rustls::{ClientConnection, StreamOwned};
use std::io::{Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// Writes a certificate of this machine, valid in these years, and its key.
fn write(folder: &Path, years: (i32, i32)) -> Vec<u8> {
    let mut params = CertificateParams::new(["127.0.0.1".to_owned()]).expect("a name");
    params.not_before = date_time_ymd(years.0, 1, 1);
    params.not_after = date_time_ymd(years.1, 1, 1);
    let key = KeyPair::generate().expect("a key");
    let certificate = params.self_signed(&key).expect("a certificate").pem();
    std::fs::write(folder.join("key.pem"), key.serialize_pem()).expect("it takes text");
    std::fs::write(folder.join("chain.pem"), &certificate).expect("it takes text");
    certificate.into_bytes()
}

fn flags(folder: &TempDir) -> [String; 4] {
    let path = |name: &str| folder.path().join(name).display().to_string();
    ["--tls-certificate".to_owned(), path("chain.pem"), "--tls-key".to_owned(), path("key.pem")]
}

/// A client that trusts only this certificate.
fn trusting(certificate: &[u8]) -> Client {
    // Installs the TLS provider.
    client();
    let certificate = reqwest::Certificate::from_pem(certificate).expect("a certificate");
    let client = Client::builder().tls_certs_only([certificate]).pool_max_idle_per_host(0);
    client.build().expect("a client")
}

#[test]
fn it_speaks_tls_and_takes_up_a_new_certificate() {
    let folder = TempDir::new().expect("room for a folder");
    let first = write(folder.path(), (2020, 2100));
    let flags = flags(&folder);
    let service = Program::start(&flags.each_ref().map(String::as_str));
    assert!(service.address.starts_with("https://"), "{}", service.address);
    let ask = |client: &Client| client.get(service.at("/v1")).send().map(|answer| answer.status());
    assert_eq!(ask(&trusting(&first)).expect("an answer"), 200);

    let second = write(folder.path(), (2020, 2101));
    assert!(ask(&trusting(&second)).is_err(), "the first is still in use");
    let until = Instant::now() + Duration::from_secs(20);
    while ask(&trusting(&second)).is_err() {
        assert!(Instant::now() < until, "the certificate was not read again");
        std::thread::sleep(Duration::from_millis(100));
    }
    assert!(ask(&trusting(&first)).is_err());

    // An expired certificate is not used, and the log says why.
    write(folder.path(), (2020, 2021));
    let line = service.logs("the new certificate is invalid; the old one stays in use");
    assert!(line.contains("expired on") && line.contains("2021"), "{line}");
    assert_eq!(ask(&trusting(&second)).expect("an answer"), 200);
}

#[test]
fn what_is_wrong_with_a_certificate_is_said_before_anything_is_served() {
    let folder = TempDir::new().expect("room for a folder");
    let flags = flags(&folder);
    let said = || refuses(&flags.each_ref().map(String::as_str));
    assert!(said().contains("chain.pem cannot be read as PEM"), "{}", said());
    write(folder.path(), (2020, 2021));
    assert!(said().contains("expired on Jan  1 00:00:00 2021"), "{}", said());
    write(folder.path(), (2090, 2100));
    assert!(said().contains("is not valid before"), "{}", said());
    write(folder.path(), (2020, 2100));
    let other = KeyPair::generate().expect("a key");
    std::fs::write(folder.path().join("key.pem"), other.serialize_pem()).expect("it takes text");
    assert!(said().contains("does not belong to the certificate"), "{}", said());
    assert!(refuses(&flags.each_ref().map(String::as_str)[..2]).contains("go together"));
}

/// HTTP/2 is spoken with whoever asks for it in the handshake (RFC 7540, 3.3), and browsers are told to come by TLS only.
#[test]
fn it_speaks_http_2_and_asks_to_be_called_by_tls_alone() {
    let folder = TempDir::new().expect("room for a folder");
    let certificate = write(folder.path(), (2020, 2100));
    let flags = flags(&folder);
    let service = Program::start(&flags.each_ref().map(String::as_str));
    let answer = trusting(&certificate).get(service.at("/v1")).send().expect("an answer");
    assert_eq!(header(&answer, "strict-transport-security"), "max-age=31536000");
    let plain = Program::start(&[]);
    let answer = client().get(plain.at("/v1")).send().expect("an answer");
    assert_eq!(header(&answer, "strict-transport-security"), "");

    let mut roots = rustls::RootCertStore::empty();
    let der = rustls::pki_types::CertificateDer::from_pem_slice(&certificate).expect("PEM");
    roots.add(der).expect("a certificate");
    let provider = Arc::new(rustls::crypto::ring::default_provider());
    let config = rustls::ClientConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()
        .expect("versions")
        .with_root_certificates(roots);
    let mut config = config.with_no_client_auth();
    config.alpn_protocols = vec![b"h2".to_vec(), b"http/1.1".to_vec()];
    let name = ServerName::try_from("127.0.0.1").expect("a name");
    let handshake = ClientConnection::new(Arc::new(config), name).expect("a connection");
    let host = service.address.strip_prefix("https://").expect("an address");
    let socket = TcpStream::connect(host).expect("it listens");
    socket.set_read_timeout(Some(Duration::from_secs(20))).expect("a time");
    let mut line = StreamOwned::new(handshake, socket);
    // The preface, an empty SETTINGS, and HEADERS of stream 1 that end it: GET / by https (RFC 7541, appendix A).
    let mut sent = b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n\0\0\0\x04\0\0\0\0\0".to_vec();
    let head = [b"\x82\x87\x84\x41\x09".as_slice(), b"localhost"].concat();
    let length = u8::try_from(head.len()).expect("it is short");
    sent.extend([0, 0, length, 1, 5, 0, 0, 0, 1]);
    sent.extend(head);
    line.write_all(&sent).expect("it reads");
    assert_eq!(line.conn.alpn_protocol(), Some(b"h2".as_slice()));
    loop {
        let mut frame = [0; 9];
        line.read_exact(&mut frame).expect("a frame");
        let [high, middle, low, kind, ..] = frame;
        let mut body =
            vec![0; usize::from(high) << 16 | usize::from(middle) << 8 | usize::from(low)];
        line.read_exact(&mut body).expect("its body");
        if kind == 1 {
            // The table's own entry for :status 200.
            assert_eq!(body.iter().find(|byte| **byte >= 0x80), Some(&0x88), "{body:x?}");
            return;
        }
    }
}
