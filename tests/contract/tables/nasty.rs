//! Tables as real programs write them. Every row gets a correct answer or a clear
//! problem; nothing is lost, and no cell would be executed by a spreadsheet.

use super::{everywhere, rows, tabulate};
use sumpwright_openapi::table::TableOptions;

/// The expected outcome of a table.
enum Expect {
    /// Refused as a whole, with these words.
    Refused(&'static str),
    /// For each row the first value of its answer, or words of its problem.
    Rows(&'static [Result<&'static str, &'static str>]),
}

use Expect::{Refused, Rows};

const HEAD: &str = "machine,sump.capacity,sump.volume,sump.concentration,target.concentration\n";
/// `HEAD` as a spreadsheet of a country with decimal commas writes it.
const SEMICOLONS: &str =
    "machine;sump.capacity;sump.volume;sump.concentration;target.concentration\n";

struct Nasty {
    name: &'static str,
    table: Vec<u8>,
    separator: u8,
    latin: bool,
    expect: Expect,
}

fn of(name: &'static str, head: &str, rest: impl AsRef<[u8]>, expect: Expect) -> Nasty {
    let separator = if head.contains(';') {
        b';'
    } else if head.contains('\t') {
        b'\t'
    } else {
        b','
    };
    let table = [head.as_bytes(), rest.as_ref()].concat();
    Nasty { name, table, separator, latin: false, expect }
}

/// A row that asks for 2 litres of concentrate, whatever the machine's name.
fn row(machine: &str) -> String {
    format!("{machine},50,40,5,8\n")
}

/// A table's line ends as some programs still write them.
fn old_ends(lines: &str) -> String {
    lines.replace('\n', "\r")
}

const TWO: Result<&str, &str> = Ok("2.0");
const TWO_WITH_COMMA: Result<&str, &str> = Ok("2,0");

/// A table as a program writes it that says "Unicode text".
fn utf_16(bytes: impl Fn(u16) -> [u8; 2]) -> Vec<u8> {
    let text = format!("\u{feff}{HEAD}{}", row("A"));
    text.encode_utf16().flat_map(bytes).collect()
}

fn separators() -> Vec<Nasty> {
    let tabs = SEMICOLONS.replace(';', "\t");
    let spaced = HEAD.replace(',', " , ");
    vec![
        of("plain", HEAD, row("A"), Rows(&[TWO])),
        of("a mark before the text", &format!("\u{feff}{HEAD}"), row("A"), Rows(&[TWO])),
        of("semicolons and points", SEMICOLONS, "A;50;40;5.0;8\n", Rows(&[TWO])),
        of("semicolons and commas", SEMICOLONS, "A;50,0;40,0;5;8\n", Rows(&[TWO_WITH_COMMA])),
        of("tabs", &tabs, "A\t50\t40\t5\t8\n", Rows(&[TWO])),
        of("tabs and commas", &tabs, "A\t50,0\t40\t5\t8\n", Rows(&[TWO_WITH_COMMA])),
        of("blanks round headings", &spaced, row("A"), Rows(&[TWO])),
        of("blanks round numbers", HEAD, "A, 50 ,\u{a0}40,5 , 8\n", Rows(&[TWO])),
        of("line ends of another system", HEAD, row("A").replace('\n', "\r\n"), Rows(&[TWO])),
        of("CR for line ends", &old_ends(HEAD), old_ends(&(row("A") + &row("B"))), Rows(&[TWO; 2])),
        of("CR after the headings alone", &old_ends(HEAD), row("A") + &row("B"), Rows(&[TWO; 2])),
        of("CR below the headings", HEAD, old_ends(&(row("A") + &row("B"))), Rows(&[TWO; 2])),
        of("CR and no line end at the end", &old_ends(HEAD), row("A").trim_end(), Rows(&[TWO])),
        of("CR inside marks", &old_ends(HEAD), old_ends(&row("\"A\rB\"")), Rows(&[TWO])),
        of("no line end at the end", HEAD, row("A").trim_end(), Rows(&[TWO])),
        of(
            "thousands in a table with commas",
            SEMICOLONS,
            "A;1.250;40,0;5;8\nB;1.250,5;40;5;8\n",
            Rows(&[Err("read in two ways"), Err("plain number")]),
        ),
        of("thousands with commas", HEAD, "A,\"1,250\",40,5,8\n", Rows(&[Err("plain number")])),
        of("a comma in a quoted number", HEAD, "A,\"50,0\",40,5,8\n", Rows(&[Err("plain number")])),
    ]
}

fn quotation() -> Vec<Nasty> {
    let long = "x".repeat(200_000);
    vec![
        of("a comma in a name", HEAD, row("\"A, left\""), Rows(&[TWO])),
        of("quotation marks in a name", HEAD, row("\"A \"\"old\"\"\""), Rows(&[TWO])),
        of("a line end in a name", HEAD, row("\"A\nB\""), Rows(&[TWO])),
        of("a blank line in a name", HEAD, row("\"A\n\nB\"") + &row("C"), Rows(&[TWO, TWO])),
        of("a mark inside a word", HEAD, row("3/4\" tap") + &row("C"), Rows(&[TWO, TWO])),
        of("quoted numbers", HEAD, "A,\"50\",\"40\",\"5\",\"8\"\n", Rows(&[TWO])),
        of("a huge cell", HEAD, row(&long), Rows(&[TWO])),
        of(
            "a huge number",
            HEAD,
            format!("A,{},40,5,8\n", "9".repeat(400)),
            Rows(&[Err("finite")]),
        ),
        of("an open mark", HEAD, row("A") + "\"B,50,40,5,8\n", Rows(&[TWO, Err("not closed")])),
        of("headings in marks", &HEAD.replace("machine", "\"ma,chine\""), row("A"), Rows(&[TWO])),
    ]
}

fn formulas() -> Vec<Nasty> {
    vec![
        of("a formula", HEAD, row("=cmd|'/c calc'!A0"), Rows(&[TWO])),
        of("a plus", HEAD, row("+A1"), Rows(&[TWO])),
        of("a minus", HEAD, row("-A1"), Rows(&[TWO])),
        of("an at", HEAD, row("@SUM(A1)"), Rows(&[TWO])),
        of("a tab", HEAD, row("\"\t=A1\""), Rows(&[TWO])),
        of("a wide sign", HEAD, row("＝A1"), Rows(&[TWO])),
        of("a formula for a number", HEAD, "A,=25+25,40,5,8\n", Rows(&[Err("=25+25")])),
        of("a heading that is a formula", &HEAD.replace("machine", "=A1"), row("A"), Rows(&[TWO])),
        of("a negative number of one's own", HEAD, row("-5.5"), Rows(&[TWO])),
    ]
}

fn shape() -> Vec<Nasty> {
    let twice = HEAD.replace("machine", "sump.volume");
    let named = |heading: &str| HEAD.replace("sump.volume", heading);
    vec![
        of("nothing", "", "", Refused("no headings")),
        of("headings alone", HEAD, "", Rows(&[])),
        of("blank lines", HEAD, format!("\n\n{}\n", row("A")), Rows(&[TWO])),
        of("a row of blanks", HEAD, format!(",,,,\n{}", row("A")), Rows(&[Ok(""), TWO])),
        of(
            "a missing column",
            &HEAD.replace(",target.concentration", ""),
            "A,50,40,5\n",
            Rows(&[Err("target")]),
        ),
        of("a missing cell", HEAD, "A,50,40,5\n", Rows(&[Err("target")])),
        of(
            "a blank that is not needed",
            &format!("{},sump.reading.brix\n", HEAD.trim_end()),
            "A,50,40,5,8,\n",
            Rows(&[TWO]),
        ),
        of("more cells than headings", HEAD, "A,50,40,5,8,9,x\n", Rows(&[Err("9 | x")])),
        of("a misspelt heading", &named("sump.volum"), row("A"), Refused("sump.volum")),
        of("a misspelt member", &HEAD.replace("target.", "taregt."), row("A"), Refused("target")),
        of("a heading twice", &twice, "40,50,40,5,8\n", Refused("given twice")),
        of(
            "a heading of the answer",
            &HEAD.replace("machine", "problem"),
            row("A"),
            Refused("problem"),
        ),
        of(
            "a heading with members",
            &HEAD.replace("machine", "target"),
            row("A"),
            Refused("\"Strength wanted\" (target.concentration)"),
        ),
        of("capitals", &HEAD.to_uppercase(), row("A"), Rows(&[TWO])),
        of("a capital", &named("Sump.volume"), row("A"), Rows(&[TWO])),
        of("blanks for dots", &named("Sump Volume"), row("A"), Rows(&[TWO])),
        of("an underscore for a dot", &named("sump_volume"), row("A"), Rows(&[TWO])),
        of(
            "a member in two cases",
            &HEAD.replace("machine", "SUMP.VOLUME"),
            "40,50,40,5,8\n",
            Refused("given twice"),
        ),
        of("units twice", &HEAD.replace("machine", "Units"), row("us"), Refused("given twice")),
        of(
            "a capital, misspelt",
            &HEAD.replace("machine", "Drainng"),
            row("A"),
            Refused("draining"),
        ),
        of(
            "blanks, misspelt",
            &HEAD.replace("machine", "Sump volum"),
            row("A"),
            Refused("sump.volume"),
        ),
        of(
            "capitals of the answer",
            &HEAD.replace("machine", "Problem"),
            row("A"),
            Refused("Problem"),
        ),
        of("litres", &named("sump.volume [litres]"), row("A"), Rows(&[TWO])),
        of("litres in parentheses", &named("Sump volume (Litres)"), row("A"), Rows(&[TWO])),
        of(
            "per cent",
            &HEAD.replace("sump.concentration", "sump.concentration [per cent]"),
            row("A"),
            Rows(&[TWO]),
        ),
        of("words of one's own", &HEAD.replace("machine", "who read it"), row("A"), Rows(&[TWO])),
        of("an unknown unit", &named("sump.volume [imp_gal]"), row("A"), Refused("imp_gal")),
        of(
            "a unit for words",
            &HEAD.replace("machine", "draining [L]"),
            row("A"),
            Refused("its member has none"),
        ),
        of(
            "a word that is none",
            &HEAD.replace("machine", "draining"),
            row("alowed"),
            Rows(&[Err("Did you mean \"allowed\"?")]),
        ),
    ]
}

fn numbers_and_letters() -> Vec<Nasty> {
    let latin_row: &[u8] = b"M\xfchle,50,40,5,8\n";
    let mut said = of("latin letters, and it says so", HEAD, latin_row, Rows(&[TWO]));
    said.latin = true;
    vec![
        said,
        of("latin letters", HEAD, latin_row, Rows(&[Err("not in UTF-8")])),
        of("UTF-16", "", utf_16(u16::to_le_bytes), Refused("UTF-16")),
        of("UTF-16, the other way round", "", utf_16(u16::to_be_bytes), Refused("UTF-16")),
        of("letters of all kinds", HEAD, row("Fräse ⅲ 旋盘 🛠"), Rows(&[TWO])),
        of("a zero byte", HEAD, row("A\0B"), Rows(&[TWO])),
        of("not a number", HEAD, "A,NaN,40,5,8\n", Rows(&[Err("finite")])),
        of("without end", HEAD, "A,inf,40,5,8\n", Rows(&[Err("finite")])),
        of("too large", HEAD, "A,1e999,40,5,8\n", Rows(&[Err("finite")])),
        of("negative", HEAD, "A,50,-40,5,8\n", Rows(&[Err("must be from 0")])),
        of("an exponent", HEAD, "A,5e1,4.0E+1,5,8\n", Rows(&[TWO])),
        of("a unit in a cell", HEAD, "A,50 L,40,5,8\n", Rows(&[Err("without a unit")])),
        of("a percent sign", HEAD, "A,50,40,5%,8\n", Rows(&[Err("write 5, without the per cent")])),
        of("a contradiction", HEAD, "A,50,60,5,8\n", Rows(&[Err("fuller than full")])),
        of(
            "good and bad",
            HEAD,
            row("A") + "B,50,x,5,8\n" + &row("C"),
            Rows(&[TWO, Err("plain number"), TWO]),
        ),
    ]
}

#[test]
fn nasty_tables_end_in_an_answer_or_a_clear_problem_a_row() {
    let all: Vec<Nasty> = [separators(), quotation(), formulas(), shape(), numbers_and_letters()]
        .into_iter()
        .flatten()
        .collect();
    assert!(all.len() >= 50, "{} tables", all.len());
    for nasty in all {
        let options = TableOptions { latin: nasty.latin, ..everywhere(&[("units", "metric")]) };
        let answered = tabulate("top-up", &nasty.table, &options);
        match (answered, &nasty.expect) {
            (Err(problem), Refused(words)) => {
                assert!(!words.is_empty(), "{}", nasty.name);
                assert!(problem.detail.contains(words), "{}: {}", nasty.name, problem.detail);
                assert!(problem.status == 400 || problem.status == 415);
            }
            (Ok(answered), Rows(expected)) => check(&nasty, &answered, expected),
            (Ok(answered), Refused(_)) => {
                panic!("{} was answered: {}", nasty.name, String::from_utf8_lossy(&answered))
            }
            (Err(problem), Rows(_)) => panic!("{} was refused: {}", nasty.name, problem.detail),
        }
    }
}

fn check(nasty: &Nasty, answered: &[u8], expected: &[Result<&str, &str>]) {
    let name = nasty.name;
    let table = nasty.table.strip_prefix("\u{feff}".as_bytes()).unwrap_or(&nasty.table);
    let (asked, answered) = (rows(table, nasty.separator), rows(answered, nasty.separator));
    assert_eq!(answered.len(), expected.len() + 1, "{name}");
    let width = answered[0].len();
    let own = asked[0].len();
    let add = answered[0].iter().position(|heading| heading.starts_with(b"answer.add.0.volume"));
    for row in &answered {
        assert_eq!(row.len(), width, "{name}");
        row.iter().for_each(|cell| assert_harmless(name, cell));
    }
    for (i, expected) in expected.iter().enumerate() {
        let row = &answered[i + 1];
        let problem = String::from_utf8_lossy(&row[width - 1]);
        match expected {
            Ok(value) => {
                assert_eq!(problem, "", "{name}");
                let found = add.map_or("", |add| std::str::from_utf8(&row[add]).expect("text"));
                assert_eq!(found, *value, "{name}");
            }
            Err(words) => {
                assert!(!words.is_empty() && problem.contains(words), "{name}: {problem}");
            }
        }
        // The caller's cells are returned, except for an added apostrophe.
        let open = problem.contains("not closed");
        for (sent, back) in asked[i + 1].iter().zip(row).take(own).filter(|_| !open) {
            let sent = if nasty.latin || std::str::from_utf8(sent).is_err() {
                sent.iter().map(|byte| char::from(*byte)).collect()
            } else {
                String::from_utf8_lossy(sent).into_owned()
            };
            let back = String::from_utf8_lossy(back);
            assert_eq!(back.strip_prefix('\'').unwrap_or(&back), sent, "{name}");
        }
    }
}

/// No cell that a spreadsheet would take for a formula.
fn assert_harmless(name: &str, cell: &[u8]) {
    let text = std::str::from_utf8(cell).unwrap_or_else(|_| panic!("{name}: not UTF-8"));
    let formula = text.starts_with(['=', '+', '-', '@', '\t', '\r', '＝', '＋', '－', '＠']);
    let number = text.replacen(',', ".", 1).parse::<f64>().is_ok();
    assert!(!formula || number, "{name}: {text:?} would be executed");
}
