//! Words of a ride for services and for changes of its settings.

use crate::language::quantity::{Number, Quantity};
use crate::language::ride::Ride;
use crate::language::word::{Registry, Word, word};
use crate::language::word_error::{Answer, WordError, held, of_setting, quantity};
use crate::language::words::ride::one;
use crate::read::units::UNITS;
use rhai::{Dynamic, NativeCallContext};
use slipsoak_engine::duty::{self, Segment, Service};
use slipsoak_engine::names::Part;
use slipsoak_engine::parts::{Dimension as D, Parameter, settings};
use slipsoak_engine::parts_file;

/// Oil as a number of drops of this volume, m³, where it is given as a volume.
pub(crate) fn counted(word: &str, drop: f64, given: &Dynamic) -> Result<Dynamic, WordError> {
    match Number::of(given) {
        Some(Number { value, of: Some(D::Volume) }) => Ok(Dynamic::from_float(value / drop)),
        Some(Number { value, of: Some(of) }) if of != D::Ratio => {
            let given = Quantity { value, of }.said();
            let volumes = UNITS.iter().filter(|unit| unit.dimension == D::Volume);
            let volumes = volumes.map(|unit| unit.word).collect::<Vec<_>>().join(", ");
            Err(WordError::new(format!(
                "`{word}`: its oil is {given}; here a number of drops is needed, such as `4`, or a volume, such as `0.1.mL` (its units: {volumes})"
            )))
        }
        _ => Ok(given.clone()),
    }
}

/// The rows.
pub(crate) const WORDS: &[Word] = &[
    word(
        "ride.oil(drops) or (drops, oil): this many drops onto the bushing, or as many as this volume makes, of the machine's oil or of another",
        r#"ride.oil(4); ride.oil(0.1.mL); ride.oil(2, "SAE 40");"#,
        |to| {
            let oiled = |context: &NativeCallContext, ride: &Ride, drops: &Dynamic, oil| -> Answer<()> {
                let drops = held("oil", "number of drops", &counted("oil", ride.drop_volume(), drops)?, &duty::DROPS, D::Ratio)?;
                ride.act(context, Segment::Service(Service::Oil { drops, oil }))
            };
            to.engine.register_fn(to.word, move |context: NativeCallContext, ride: &mut Ride, drops: Dynamic| {
                let oil = ride.oil();
                oiled(&context, ride, &drops, oil)
            });
            let with = move |context: NativeCallContext, ride: &mut Ride, drops: Dynamic, name: &str| -> Answer<()> {
                oiled(&context, ride, &drops, parts_file::oil(name).map_err(WordError::from)?)
            };
            to.engine.register_fn(to.word, with);
        },
    )
    .also("lubricate oiled"),
    word("ride.grease(volume): grease into the grooves that holds this volume of oil", "ride.grease(0.1.mL);", |to| {
        one(to, |word, volume| {
            Ok(Segment::Service(Service::Grease(held(word, "volume", volume, &duty::GREASE, D::Volume)?)))
        });
    }),
    word("ride.set_fill(fill): sets the oil fill of the bushing, 0 to 1", "ride.set_fill(0.7);", |mut to| {
        let fill = |word, fill: &Dynamic| {
            Ok(Segment::Service(Service::Found(held(word, "oil fill", fill, &duty::FILL, D::Ratio)?)))
        };
        one(Registry { word: "found", ..to.again() }, fill);
        one(to, fill);
    })
    .also("fill"),
    word("ride.new_lining(): a new lining", "ride.new_lining();", |to| renews(to, Part::Lining))
        .also("lining lined reline"),
    word("ride.new_washer(): a new washer, soaked in oil", "ride.new_washer();", |to| renews(to, Part::Washer))
        .also("washer"),
    word("ride.new_bushing(): a new bushing, full of oil", "ride.new_bushing();", |to| {
        renews(to, Part::Bushing);
    })
    .also("bushing"),
    word(
        "ride.new_spring(speed): a fresh set of springs that engage at that speed; a weak or broken one is gone, the force of the lot stays",
        "ride.new_spring(1900.rpm);",
        |to| {
            setting(to, "engagement speed", &settings::clutch::engagement, |_, speed| Service::Spring(speed));
        },
    )
    .also("spring springs"),
    word(
        "ride.adjust(setting, value): changes one setting from here on, by its path",
        r#"ride.adjust("motor.idle", 1600.rpm);"#,
        |to| {
            to.engine.register_fn(
                to.word,
                |context: NativeCallContext, ride: &mut Ride, path: &str, value: Dynamic| -> Answer<()> {
                    let (setting, value) = of_setting("adjust", path, &value)?;
                    ride.change(&context, (setting, value), Service::Adjust(setting, value))
                },
            );
        },
    )
    .also("set change having mass load weight"),
    word("ride.ambient(temperature): changes the temperature of the air", "ride.ambient(35.degC);", |to| {
        setting(to, "temperature", &settings::surroundings::ambient, Service::Adjust);
    })
    .also("temperature air weather"),
    word("ride.wind(speed): changes the wind over the drum", "ride.wind(10.km_h);", |to| {
        setting(to, "speed", &settings::surroundings::wind, Service::Adjust);
    }),
    word("ride.grade(slope): changes the slope of the road, rise over run", "ride.grade(0.05);", |to| {
        setting(to, "slope", &settings::surroundings::grade, Service::Adjust);
    })
    .also("slope hill climb uphill downhill descend incline"),
];

fn renews(Registry { word, engine, .. }: Registry, part: Part) {
    engine.register_fn(word, move |context: NativeCallContext, ride: &mut Ride| {
        ride.act(&context, Segment::Service(Service::New(part)))
    });
}

fn setting(
    Registry { word, engine, .. }: Registry,
    argument: &'static str,
    p: &'static Parameter,
    make: fn(&'static Parameter, f64) -> Service,
) {
    engine.register_fn(word, move |context: NativeCallContext, ride: &mut Ride, value: Dynamic| -> Answer<()> {
        let value = quantity(word, argument, &value, p.dimension)?;
        ride.change(&context, (p, value), make(p, value))
    });
}
