//! TLS with a certificate from files: read again when it changes, refused when it
//! has expired.

use super::{Program, refuses};
use crate::server::client;
use rcgen::{CertificateParams, KeyPair, date_time_ymd};
use reqwest::blocking::Client;
use std::path::Path;
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
