//! The year of the loop as streams, and the properties that have a limit on their way to steady
//! state.

use super::{FluidLoop, FluidLoopAnswer, LoopDay, LoopYear};
use crate::picture::{Across, Flow, FlowNode, Flows, Layer, Panel, Panels, Picture, Shows};
use crate::quantity::{Concentration, Content, Quantity, Volume};

pub(super) fn pictures(question: &FluidLoop, answer: &FluidLoopAnswer) -> Vec<Picture> {
    let year =
        Picture::new("A year of the loop at steady state", Shows::Flows(flows(&answer.per_year)));
    [year].into_iter().chain(way(question, answer)).collect()
}

/// What comes into the sumps, what leaves them, and what comes of the fluid that is drained.
fn flows(year: &LoopYear) -> Flows {
    let mut flows = Flows { row: Volume::ROW, nodes: Vec::new(), flows: Vec::new() };
    let place = |flows: &mut Flows, name: &'static str, column: usize| {
        flows.nodes.push(FlowNode { name: name.into(), column });
        flows.nodes.len() - 1
    };
    let sumps = place(&mut flows, "sumps", 1);
    let mut stream = |name: &'static str, column: usize, amount: f64, other: usize| {
        let recycled = name.starts_with("recycled");
        if amount <= 0.0 {
            return other;
        }
        let node = place(&mut flows, name, column);
        let (from, to) = if column == 0 { (node, other) } else { (other, node) };
        flows.flows.push(Flow { from, to, amount, recycled });
        node
    };
    stream("water", 0, year.water.get(), sumps);
    stream("deionised water", 0, year.deionised_water.get(), sumps);
    stream("concentrate", 0, year.concentrate.get(), sumps);
    stream("oil leaked in", 0, year.oil_leaked.get(), sumps);
    stream("recycled, back in", 0, year.recycled.get(), sumps);
    stream("evaporated", 2, year.evaporated.get(), sumps);
    stream("carried off", 2, year.carried_off.get(), sumps);
    let drained = stream("drained", 2, year.drained.get(), sumps);
    let apart = [year.oil_and_sludge, year.purged, year.surplus].map(Quantity::get);
    let unrecycled = year.disposed.get() - apart.iter().sum::<f64>();
    // What is left of the difference where all goes through the recycler is rounding.
    let unrecycled = if unrecycled > 1e-9 * year.disposed.get() { unrecycled } else { 0.0 };
    stream("not recycled", 3, unrecycled, drained);
    stream("oil and sludge", 3, apart[0], drained);
    stream("discarded on purpose", 3, apart[1], drained);
    stream("left over", 3, apart[2], drained);
    stream("recycled", 3, year.recycled.get(), drained);
    flows
}

/// One panel for each limit; none where there is no limit or no second day.
fn way(question: &FluidLoop, answer: &FluidLoopAnswer) -> Option<Picture> {
    let kept = question.kept();
    let limits = &kept.limits;
    let oil = limits.tramp_oil.map(|limit| {
        let of = |day: &LoopDay, recycled: bool| {
            let properties = if recycled { &day.recycled } else { &day.highest };
            properties.tramp_oil.map(Quantity::get)
        };
        let ends = (limit.min.map(Quantity::get), limit.max.map(Quantity::get));
        Panel::new("tramp oil", Concentration::ROW, layers(answer, ends, of)).from_zero()
    });
    let matter = limits.matter.iter().map(|(name, limit)| {
        let of = |day: &LoopDay, recycled: bool| {
            let properties = if recycled { &day.recycled } else { &day.highest };
            properties.matter.get(name).map(|content| content.get())
        };
        let ends = (limit.min.map(Quantity::get), limit.max.map(Quantity::get));
        Panel::new(crate::fluid::properties::spoken(name), Content::ROW, layers(answer, ends, of))
            .from_zero()
    });
    let panels: Vec<Panel> = oil.into_iter().chain(matter).collect();
    let drawn = !panels.is_empty() && answer.series.len() > 1;
    let title = "Contents of the sumps on the way to steady state";
    drawn.then(|| Picture::new(title, Shows::Panels(Panels { across: Across::days(), panels })))
}

/// A property's limits and its way, in the sumps and in the clean tank.
fn layers(
    answer: &FluidLoopAnswer,
    (min, max): (Option<f64>, Option<f64>),
    of: impl Fn(&LoopDay, bool) -> Option<f64>,
) -> Vec<Layer> {
    let line = |recycled: bool| {
        let points = answer.series.iter();
        let points = points.filter_map(|day| Some((day.day.get(), of(day, recycled)?)));
        points.collect::<Vec<_>>()
    };
    let mut layers = Vec::with_capacity(4);
    layers.extend(min.map(|at| Layer::limit("at least", at)));
    layers.extend(max.map(|at| Layer::limit("at most", at)));
    for (label, recycled) in [("worst sump", false), ("recycled fluid", true)] {
        let points = line(recycled);
        if !points.is_empty() {
            layers.push(Layer::line(label, points));
        }
    }
    layers
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calculation::Calculation;

    fn example() -> FluidLoop {
        let mut document: serde_json::Value =
            serde_json::from_str(FluidLoop::EXAMPLE).expect("an example");
        let members = document.as_object_mut().expect("an object");
        members.retain(|name, _| name != "units" && name != "reference");
        serde_json::from_value(document).expect("a question")
    }

    #[test]
    fn what_comes_to_a_place_goes_from_it() {
        let question = example();
        let answer = question.calculate().expect("an answer").answer;
        let flows = flows(&answer.per_year);
        let mut inner = 0;
        for (i, node) in flows.nodes.iter().enumerate() {
            let (comes, goes) = (flows.reaching(i), flows.leaving(i));
            if comes > 0.0 && goes > 0.0 {
                inner += 1;
                assert!((comes - goes).abs() < 1e-6 * comes, "{node:?}: {comes} and {goes}");
            }
        }
        assert_eq!(inner, 2, "the sumps and what is drained");
        assert!(flows.flows.iter().all(|flow| {
            flow.amount > 0.0 && flows.nodes[flow.from].column < flows.nodes[flow.to].column
        }));
    }
}
