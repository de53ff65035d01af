//! Logs made from known losses with seeded noise: what `losses` finds must be what
//! they were made from, as often as it says.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use serde_json::{Value, json};
use statrs::distribution::{ContinuousCDF, Normal};
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::calculations::losses::{Finding, LossLog, LossesAnswer};
use sumpwright_engine::quantity::Quantity;

/// A sump to make logs of.
#[derive(Clone, Copy)]
struct Shop {
    capacity: f64,
    strength: f64,
    e: f64,
    d: f64,
    k: f64,
    days: usize,
    u_volume: f64,
    u_strength: f64,
}

const SHOP: Shop = Shop {
    capacity: 200.0,
    strength: 8.0,
    e: 9.0,
    d: 6.0,
    k: 1.0,
    days: 22,
    u_volume: 2.0,
    u_strength: 0.12,
};

/// What goes wrong in a log and is not written down.
#[derive(Clone, Copy, PartialEq)]
enum Fault {
    None,
    Water { day: usize, litres: f64 },
    Leak { day: usize, a_day: f64 },
    Factor { day: usize, times: f64 },
    Premix { day: usize, strength: f64 },
}

struct Noise(Pcg64);

impl Noise {
    fn new(seed: u64) -> Self {
        Self(Pcg64::seed_from_u64(seed))
    }

    fn normal(&mut self, sigma: f64) -> f64 {
        let share: f64 = self.0.random();
        sigma * Normal::standard().inverse_cdf(share.clamp(1e-15, 1.0 - 1e-15))
    }
}

/// A day by a thousand small steps of the rates' own equations, so that the
/// engine's closed form is not what it is tested with.
fn a_day(shop: &Shop, (mut v, mut c): (f64, f64), leak: f64) -> (f64, f64) {
    const STEPS: u32 = 200;
    let h = 1.0 / f64::from(STEPS);
    let v_rate = leak - shop.e - shop.d;
    for _ in 0..STEPS {
        // Midpoint rule: its error at this step is far below the noise.
        let middle = c - 0.5 * h * shop.k * shop.d * c / v;
        c -= h * shop.k * shop.d * middle / (v + 0.5 * h * v_rate);
        v += h * v_rate;
    }
    (v, c)
}

/// The top-ups of a shop: premix of two strengths and plain water, when the level
/// is low, and neat concentrate once in a while.
fn top_up(shop: &Shop, noise: &mut Noise, v: f64, day: usize) -> Option<(f64, f64)> {
    if day % 7 == 5 {
        return Some((2.0, 100.0));
    }
    if v > 0.85 * shop.capacity {
        return None;
    }
    let strength = [3.0, 0.0, 5.0][noise.0.random_range(0..3)];
    Some(((shop.capacity - v).max(5.0).round(), strength))
}

fn log(shop: &Shop, fault: Fault, seed: u64) -> Value {
    let mut noise = Noise::new(seed);
    let (mut v, mut c) = (shop.capacity * 0.97, shop.capacity * 0.97 * shop.strength / 100.0);
    let mut entries = Vec::new();
    for day in 0..shop.days {
        let times = match fault {
            Fault::Factor { day: since, times } if day >= since => times,
            _ => 1.0,
        };
        let read = (100.0 * c / v * times + noise.normal(shop.u_strength)).max(0.0);
        let mut entry = json!({
            "day": day,
            "volume": v + noise.normal(shop.u_volume),
            "concentration": read,
        });
        if let Some((volume, strength)) = top_up(shop, &mut noise, v, day) {
            entry["added"] = json!({ "volume": volume, "concentration": strength });
            let truly = match fault {
                Fault::Premix { day: on, strength } if on == day => strength,
                _ => strength,
            };
            v += volume;
            c += volume * truly / 100.0;
        } else if matches!(fault, Fault::Premix { day: on, .. } if on == day) {
            entry["added"] = json!({ "volume": 30.0, "concentration": 5.0 });
            let Fault::Premix { strength, .. } = fault else { unreachable!() };
            v += 30.0;
            c += 0.3 * strength;
        }
        if matches!(fault, Fault::Water { day: on, .. } if on == day) {
            let Fault::Water { litres, .. } = fault else { unreachable!() };
            v += litres;
        }
        entries.push(entry);
        let leak = match fault {
            Fault::Leak { day: since, a_day } if day >= since => a_day,
            _ => 0.0,
        };
        (v, c) = a_day(shop, (v, c), leak);
    }
    json!({
        "sump": { "capacity": shop.capacity, "concentration": shop.strength },
        "uncertainty": { "volume": shop.u_volume, "concentration": shop.u_strength },
        "log": entries,
    })
}

fn solve(question: Value) -> LossesAnswer {
    let question: LossLog = serde_json::from_value(question).expect("a log");
    question.calculate().expect("it is answered").answer
}

/// How often the 95 % interval held the truth, and how far the mean was off in
/// units of u.
struct Tally {
    truth: f64,
    held: f64,
    off: f64,
    logs: f64,
}

impl Tally {
    fn new(truth: f64) -> Self {
        Self { truth, held: 0.0, off: 0.0, logs: 0.0 }
    }

    fn add(&mut self, value: f64, u: f64, coverage_factor: f64) {
        let off = (value - self.truth) / u;
        self.held += f64::from(u8::from(off.abs() <= coverage_factor));
        self.off += off;
        self.logs += 1.0;
    }

    fn show(&self, name: &str) {
        println!("{name}: {} {}", self.held / self.logs, self.off / self.logs);
    }
}

fn tally(name: &str, shop: &Shop, logs: u64, change: impl Fn(&mut Value), fault: Fault) {
    let (mut e, mut d) = (Tally::new(shop.e), Tally::new(shop.d));
    let (mut v, mut k) = (Tally::new(shop.capacity), Tally::new(shop.k));
    let mut m = Tally::new(shop.k * shop.d * shop.strength / (shop.e + shop.d));
    let mut found = 0;
    for seed in 0..logs {
        let mut question = log(shop, fault, seed);
        change(&mut question);
        let answer = solve(question);
        found += usize::from(!answer.findings.is_empty());
        let f = answer.coverage_factor.get();
        e.add(answer.evaporation.value.get(), answer.evaporation.u.get(), f);
        d.add(answer.carry_off.value.get(), answer.carry_off.u.get(), f);
        if let Some(x) = answer.volume { v.add(x.value.get(), x.u.get(), f); }
        if let Some(x) = answer.depletion_ratio { k.add(x.value.get(), x.u.get(), f); }
        let x = answer.make_up.unwrap();
        m.add(x.value.get(), x.u.get(), f);
        if seed == 0 { println!("{name} {:?} {:?} {:?} {:?} {:?} {f}", answer.evaporation, answer.carry_off, answer.depletion_ratio, answer.volume, answer.make_up); }
    }
    println!("== {name} findings {found}");
    e.show("e"); d.show("d"); v.show("v"); k.show("k"); m.show("make-up");
}

#[test]
fn given() { tally("given", &SHOP, 400, |_| (), Fault::None); }
#[test]
fn scatter() { tally("scatter", &SHOP, 400, |q| drop(q.as_object_mut().unwrap().remove("uncertainty")), Fault::None); }
#[test]
fn volume() { tally("volume", &SHOP, 400, |q| { q["estimate"] = json!(["volume"]); 
  q["sump"]["capacity"] = json!(170.0);
  for e in q["log"].as_array_mut().unwrap() { e["volume"] = json!(e["volume"].as_f64().unwrap()*0.85); }
  q["uncertainty"]["volume"] = json!(1.7); }, Fault::None); }
#[test]
fn depletion() { 
  let shop = Shop { k: 1.3, ..SHOP };
  tally("depletion", &shop, 400, |q| { q["estimate"] = json!(["depletion_ratio"]); 
  q["known"] = json!({"carry_off": {"value": 6.0, "u": 0.3}}); }, Fault::None); }
#[test]
fn water() { tally("water", &SHOP, 300, |_| (), Fault::Water { day: 11, litres: 20.0 }); }
#[test]
fn water_scatter() { tally("water scatter", &SHOP, 300, |q| drop(q.as_object_mut().unwrap().remove("uncertainty")), Fault::Water { day: 11, litres: 20.0 }); }

fn planted(remove: bool) {
    for (name, fault, want) in [
        ("water", Fault::Water { day: 11, litres: 20.0 }, "unrecorded_addition"),
        ("water late", Fault::Water { day: 19, litres: 20.0 }, "unrecorded_addition"),
        ("leak", Fault::Leak { day: 9, a_day: 5.0 }, "water_ingress"),
        ("factor", Fault::Factor { day: 12, times: 2.0 }, "factor_off"),
        ("factor all", Fault::Factor { day: 0, times: 2.0 }, "factor_off"),
        ("premix", Fault::Premix { day: 10, strength: 0.0 }, "premix_off"),
    ] {
        let mut named = 0;
        let mut other = std::collections::BTreeMap::<String, usize>::new();
        for seed in 0..100 {
            let mut q = log(&SHOP, fault, 1000 + seed);
            if remove { q.as_object_mut().unwrap().remove("uncertainty"); }
            let answer = solve(q);
            let all: Vec<Value> = answer.findings.iter().map(|f| serde_json::to_value(f).unwrap()).collect();
            let label: Vec<String> = all.iter().map(|f| format!("{}@{}{}", f["kind"].as_str().unwrap(), f["from"], f["or_else"])).collect();
            named += usize::from(all.iter().any(|f| f["kind"] == want));
            *other.entry(label.join("+")).or_default() += 1;
        }
        println!("{remove} {name}: {named} {other:?}");
    }
}
#[test]
fn planted_scatter() { planted(true); }
#[test]
fn planted_given() { planted(false); }

#[test]
fn look() {
    let mut bins = std::collections::BTreeMap::<String, (usize, f64, f64, f64)>::new();
    for seed in 0..100 {
        let answer = solve(log(&SHOP, Fault::Water { day: 11, litres: 20.0 }, seed));
        let f = serde_json::to_value(&answer.findings[0]).unwrap();
        let b = bins.entry(format!("{}@{}", f["kind"], f["from"])).or_default();
        b.0 += 1;
        b.1 += f["size"]["value"].as_f64().unwrap();
        b.2 += answer.evaporation.value.get() - 9.0;
        b.3 += answer.carry_off.value.get() - 6.0;
    }
    for (k, b) in bins { let n = b.0 as f64; println!("{k}: {n} {} {} {}", b.1 / n, b.2 / n, b.3 / n); }
}
#[test]
fn volume_more() {
    for block in 0..2 {
    let mut v = Tally::new(200.0);
    let mut w = Tally::new(0.0);
    for seed in 0..800 {
        let mut q = log(&SHOP, Fault::None, 5000 + 800 * block + seed);
        q["estimate"] = json!(["volume"]);
        let answer = solve(q);
        let x = answer.volume.unwrap();
        v.add(x.value.get(), x.u.get(), answer.coverage_factor.get());
        w.add(x.u.get(), 1.0, 1.0);
    }
    v.show("volume"); w.show("u");
    }
}
