//! Asks a service with a client generated from its own document.
//!
//! Run by tests/tools/clients/run. The answers are compared with the examples of the
//! document and with a mass balance calculated here: litres (or gallons) of
//! concentrate present and wanted.

use generated::apis::configuration::Configuration;
use generated::apis::{Error, blend_api as blend, service_api as service, top_up_api as top_up};
use generated::models::{
    BatchTarget, BindingConstraint, BlendQuestion, ContentByProperty, ContentLimitByProperty,
    FluidStock, MachineSump, OilLimit, RefractometerReading, StrengthReading, SumpTarget,
    TopUpQuestion, TopUpRecord, UnitSystem,
};
use serde::de::DeserializeOwned;
use serde_json::Value;

fn main() {
    let mut arguments = std::env::args().skip(1);
    let address = arguments.next().expect("an address");
    let file = arguments.next().expect("a document");
    let document = std::fs::read(file).expect("a readable document");
    let document: Value = serde_json::from_slice(&document).expect("JSON");
    let configuration = Configuration {
        base_path: address,
        bearer_access_token: std::env::var("KEY").ok().filter(|key| !key.is_empty()),
        ..Configuration::default()
    };
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build();
    runtime.expect("a runtime").block_on(async {
        the_example_is_answered_as_the_document_says(&configuration, &document).await;
        a_question_of_its_own_is_answered(&configuration).await;
        a_problem_is_a_problem(&configuration).await;
        a_list_and_a_choice_are_read(&configuration).await;
        the_index_lists_what_there_is(&configuration, &document).await;
    });
    println!("the Rust client was answered");
}

fn assert_near(found: f64, expected: f64) {
    let most = 1e-9 * expected.abs().max(1.0);
    assert!((found - expected).abs() <= most, "{found} is not {expected}");
}

fn example<T: DeserializeOwned>(holder: &Value) -> T {
    let found = &holder["content"]["application/json"]["example"];
    serde_json::from_value(found.clone()).expect("a typed example")
}

async fn the_example_is_answered_as_the_document_says(to: &Configuration, document: &Value) {
    let post = &document["paths"]["/v1/top-up"]["post"];
    let answers = post["responses"]["200"]["$ref"].as_str().expect("a component");
    let question: TopUpQuestion = example(&post["requestBody"]);
    let answer: TopUpRecord = example(document.pointer(&answers[1..]).expect("its answers"));
    let id = Some("invented-example-1");
    let record = top_up::solve_top_up(
        to,
        question.clone(),
        None,
        None,
        None,
        None,
        None,
        None,
        None,
        None,
        None,
        None,
        id,
        None,
    )
    .await;
    let record = record.expect("an answer");
    assert_eq!(record, answer);

    let (sump, target) = (question.sump, question.target);
    let Some(Some(StrengthReading::Refractometer(reading))) =
        sump.reading.map(|one| one.map(|one| *one))
    else {
        panic!("the example has a refractometer's reading");
    };
    let strength = reading.brix * reading.factor / 100.0;
    let concentrate = sump.capacity * target.concentration / 100.0 - sump.volume * strength;
    let added = |name: &str| {
        let part = record.answer.add.iter().find(|part| part.name == name);
        part.expect("it is added").volume
    };
    assert_near(added("concentrate"), concentrate);
    assert_near(added("water"), sump.capacity - sump.volume - concentrate);
}

fn a_top_up_of_its_own(volume: f64) -> TopUpQuestion {
    let mut sump = MachineSump::new(50.0, volume);
    let reading = StrengthReading::Refractometer(Box::new(RefractometerReading::new(4.0, 1.25)));
    sump.reading = Some(Some(Box::new(reading)));
    TopUpQuestion::new(UnitSystem::Us, sump, SumpTarget::new(8.0))
}

async fn a_question_of_its_own_is_answered(to: &Configuration) {
    let record = top_up::solve_top_up(
        to,
        a_top_up_of_its_own(40.0),
        None,
        None,
        None,
        None,
        None,
        None,
        None,
        None,
        None,
        None,
        None,
        None,
    )
    .await;
    let added = record.expect("an answer").answer.add;
    // 50·8 % − 40·5 % = 2 gallons of concentrate, and 8 of water.
    assert_near(added[0].volume, 2.0);
    assert_near(added[1].volume, 8.0);
}

async fn a_problem_is_a_problem(to: &Configuration) {
    let refused = top_up::solve_top_up(
        to,
        a_top_up_of_its_own(60.0),
        None,
        None,
        None,
        None,
        None,
        None,
        None,
        None,
        None,
        None,
        None,
        None,
    )
    .await;
    let Err(Error::ResponseError(response)) = refused else { panic!("{refused:?} is no problem") };
    assert_eq!(response.status.as_u16(), 422);
    // The statuses share one type, and the first that fits is used for all.
    let Some(top_up::SolveTopUpError::Status400(problem)) = response.entity else {
        panic!("{} is no typed problem", response.content);
    };
    assert_eq!(problem.r#type, "/problems/inconsistent");
    assert_eq!(problem.status, 422);
    assert_eq!(problem.errors.expect("errors")[0].pointer, "/sump/volume");
}

async fn a_list_and_a_choice_are_read(to: &Configuration) {
    let stock = |name: &str, concentration: f64, cost: f64| {
        let mut stock = FluidStock::new(name.to_owned(), concentration);
        stock.unit_cost = Some(Some(cost));
        stock
    };
    let mut recycled = stock("recycled", 4.2, 0.05);
    recycled.volume = Some(Some(500.0));
    recycled.properties = Some(Some(ContentByProperty { tramp_oil: Some(Some(0.7)) }));
    let stocks = vec![recycled, stock("concentrate", 100.0, 6.4), stock("water", 0.0, 0.004)];
    let target = BatchTarget::new(800.0, 6.0);
    let mut question = BlendQuestion::new(UnitSystem::Metric, target, stocks);
    question.reference = Some(Some("invented example: client".to_owned()));
    let limit = OilLimit { max: Some(Some(0.5)), ..OilLimit::default() };
    let limits = ContentLimitByProperty { tramp_oil: Some(Some(Box::new(limit))) };
    question.limits = Some(Some(limits));

    let record = blend::solve_blend(
        to, question, None, None, None, None, None, None, None, None, None, None, None, None,
    )
    .await
    .expect("an answer");
    assert_eq!(record.reference.as_deref(), Some("invented example: client"));
    // All 500 L of recycled fluid hold 21 L of the 48 L of concentrate that are wanted.
    for (take, volume) in record.answer.take.iter().zip([500.0, 27.0, 273.0]) {
        assert_near(take.volume, volume);
    }
    let [BindingConstraint::MoneyPerVolume(stock)] = record.answer.binding.as_slice() else {
        panic!("{:?} hold it back", record.answer.binding);
    };
    assert_eq!(stock.what, "/stocks/0/volume");
    // A litre more of it saves 0.042 L of concentrate and 0.958 L of water.
    assert_near(stock.worth, 0.042 * 6.4 + 0.958 * 0.004 - 0.05);
}

async fn the_index_lists_what_there_is(to: &Configuration, document: &Value) {
    let index = service::list_calculations(to, None, None).await.expect("an answer");
    assert!(!index.calculations.is_empty());
    for line in index.calculations {
        assert!(document["paths"].get(&line.address).is_some(), "{} is unknown", line.address);
    }
}
