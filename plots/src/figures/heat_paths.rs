//! Heat that flows between the parts at a moment, as ribbons on the section.

use crate::figures::painted::Painted;
use crate::figures::section::Joint;
use crate::sheet::prelude::*;
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::{Parameter, settings::heat};
use slipsoak_engine::record::Run;

/// The parts that a joint of a section connects, and its conductance: the least and the greatest where the state of its oil
/// film decides, else twice the same.
static PATHS: [([Channel; 2], [&Parameter; 2]); 8] = [
    ([Channel::Band, Channel::Web], [&heat::band_web; 2]),
    ([Channel::Web, Channel::Sprocket], [&heat::web_sprocket; 2]),
    ([Channel::Sprocket, Channel::Bushing], [&heat::sprocket_bushing; 2]),
    ([Channel::Shoes, Channel::Carrier], [&heat::shoes_carrier; 2]),
    ([Channel::Carrier, Channel::Shaft], [&heat::carrier_shaft; 2]),
    ([Channel::Shaft, Channel::Block], [&heat::shaft_block; 2]),
    ([Channel::Bushing, Channel::Shaft], [&heat::bushing_shaft_dry, &heat::bushing_shaft_oiled]),
    ([Channel::DrumFace, Channel::Shoes], [&heat::drum_shoes; 2]),
];

/// Width of the strongest ribbon, px, and its length.
const WIDEST: f64 = 15.0;
const LONG: f64 = 17.0;
/// Heat flow below which a ribbon is left out, W.
const LEAST: f64 = 0.5;

/// A flow of heat at a joint from the first to the second of two parts, W: the least and the greatest.
struct Flow {
    joint: Joint,
    parts: [Channel; 2],
    watts: [f64; 2],
}

impl Flow {
    fn middle(&self) -> f64 {
        f64::midpoint(self.watts[0], self.watts[1])
    }

    fn words(&self) -> String {
        let [least, most] = self.watts.map(power);
        match least.split_once(' ') {
            _ if least == most => most,
            Some((value, unit)) if most.ends_with(unit) => format!("{value} to {most}"),
            _ => format!("{least} to {most}"),
        }
    }
}

/// Flows of heat at the joints, each in its direction.
fn flows(run: &Run, painted: &Painted<'_>) -> Vec<Flow> {
    let one = |(joint, (parts, settings)): (&Joint, &([Channel; 2], [&Parameter; 2]))| {
        let rise = painted.value(parts[0]) - painted.value(parts[1]);
        let [low, high] = settings.map(|setting| run.setting(setting));
        let watts = [low? * rise.abs(), high? * rise.abs()];
        let backwards = rise < 0.0;
        let (x, y) = joint.towards;
        Some(Flow {
            joint: if backwards { Joint { towards: (-x, -y), ..*joint } } else { *joint },
            parts: if backwards { [parts[1], parts[0]] } else { *parts },
            watts: [watts[0].min(watts[1]), watts[0].max(watts[1])],
        })
    };
    painted.section.joints.iter().zip(&PATHS).filter_map(one).filter(|flow| flow.middle() >= LEAST).collect()
}

/// Draws the ribbons with their amounts, and the heat of slip at the rubbed faces.
pub fn draw(
    sheet: &Sheet<'_>,
    run: &Run,
    painted: &Painted<'_>,
    place: &impl Fn((f64, f64)) -> Place,
) -> Result<(), DrawError> {
    slipping(sheet, painted, place)?;
    let flows = flows(run, painted);
    let most = flows.iter().map(Flow::middle).fold(0.0, f64::max);
    for flow in flows {
        let middle = place(flow.joint.at);
        let along = (flow.joint.towards.0, -flow.joint.towards.1);
        let half = 0.5 * (WIDEST * flow.middle() / most).max(1.6);
        let at = |forward: f64, aside: f64| {
            (middle.0 + forward * along.0 - aside * along.1, middle.1 + forward * along.1 + aside * along.0)
        };
        let head = half + 4.0;
        let arrow = [
            at(-LONG, half),
            at(LONG - head, half),
            at(LONG - head, head),
            at(LONG, 0.0),
            at(LONG - head, -head),
            at(LONG - head, -half),
            at(-LONG, -half),
        ];
        let words = flow.words();
        let [from, to] = flow.parts.map(|part| called(painted, part));
        sheet.says(&format!("{from} to {to} {words}"), || {
            sheet.shape(&arrow, PAPER, 0.9)?;
            sheet.outline(&arrow, TEXT, 0.9)
        })?;
        // Beside an upright arrow, above a lying one.
        if along.0 == 0.0 {
            sheet.on_paper(&words, (middle.0 + head + 5.0, middle.1), Type::TICK)?;
        } else {
            sheet.on_paper(&words, (middle.0 - LONG, middle.1 - head - 11.0), Type::TICK)?;
        }
    }
    Ok(())
}

/// The rubbed faces, with the heat of slip.
fn slipping(sheet: &Sheet<'_>, painted: &Painted<'_>, place: &impl Fn((f64, f64)) -> Place) -> Result<(), DrawError> {
    let slip = painted.value(Channel::SlipPower);
    let lining = painted.section.pieces.iter().find(|piece| piece.channel == Some(Channel::LiningSurface));
    let Some(lining) = lining.filter(|_| slip >= LEAST) else { return Ok(()) };
    let (left, face) = lining
        .outline
        .iter()
        .map(|p| place(*p))
        .fold((f64::INFINITY, f64::INFINITY), |m, p| (m.0.min(p.0), m.1.min(p.1)));
    let right = lining.outline.iter().map(|p| place(*p).0).fold(f64::NEG_INFINITY, f64::max);
    sheet.line(&[(left, face), (right, face)], PAPER, 3.0, Some((3.0, 3.0)))?;
    sheet.on_paper(&format!("slip {}", power(slip)), (left + 8.0, face + 13.0), Type::TICK.bold(true))
}

/// Name of a part in the section.
fn called(painted: &Painted<'_>, part: Channel) -> &'static str {
    let part = if part == Channel::DrumFace { Channel::Band } else { part };
    painted.section.pieces.iter().find(|piece| piece.channel == Some(part)).map_or("", |piece| piece.name)
}

/// A flow of heat, from W.
fn power(watts: f64) -> String {
    match watts {
        ..9.95 => format!("{} W", number(watts, 0.1)),
        9.95..995.0 => format!("{} W", number(watts, 1.0)),
        _ => format!("{} kW", number(1e-3 * watts, 0.1)),
    }
}
