//! Words that read a ride.

use crate::language::quantity::Quantity;
use crate::language::ride::Ride;
use crate::language::word::{Registry, Word, word};
use crate::language::word_error::{Answer, WordError};
use crate::read::units::{celsius, fahrenheit, maybe, nearest};
use rhai::FLOAT;
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::Dimension;
use slipsoak_engine::simulate::Simulation;

/// The rows.
pub(crate) const WORDS: &[Word] = &[
    word(
        "ride.celsius(part): reads a temperature, °C",
        r#"while ride.celsius("lining surface") > 150 { ride.idle(10.s); }"#,
        |to| temperature(to, celsius),
    ),
    word(
        "ride.fahrenheit(part): reads a temperature, °F",
        r#"if ride.fahrenheit("bushing") > 194 { ride.motor_off(5.min); }"#,
        |to| temperature(to, fahrenheit),
    ),
    word(
        "ride.reading(channel): reads any channel in its SI unit",
        r#"let worn = ride.reading("lining wear");"#,
        |to| {
            to.engine.register_fn(to.word, |ride: &mut Ride, name: &str| -> Answer<Quantity> {
                let channel = known(name, |_| true)?;
                let value = ride.read(|simulation| simulation.reading(channel))?;
                Ok(Quantity { value, of: channel.dimension() })
            });
        },
    )
    .also("read channel wear"),
    word(
        "ride.fill: reads the bushing's oil over a full bushing's, 0 to 1",
        r#"if ride.fill < 0.6 { ride.oil(4, "SAE 30"); }"#,
        |to| reads(to, Dimension::Ratio, |s| s.reading(Channel::OilFill)),
    ),
    word("ride.clock: reads the time since the start, s", "while ride.clock < 1.min { ride.idle(20.s); }", |to| {
        reads(to, Dimension::Time, Simulation::clock);
    }),
    word(
        "ride.engagement: reads the engagement speed as it is now, rad/s",
        "let margin = ride.engagement - 1700.rpm;",
        |to| reads(to, Dimension::AngularSpeed, |s| s.reading(Channel::Engagement)),
    ),
    word("ride.speed: reads the speed over ground, m/s", "let slow = ride.speed < 5.km_h;", |to| {
        reads(to, Dimension::Speed, |s| s.reading(Channel::VehicleSpeed));
    }),
];

/// Registers a reading without arguments.
fn reads(Registry { word, engine, .. }: Registry, of: Dimension, read: fn(&Simulation) -> f64) {
    engine.register_get(word, move |ride: &mut Ride| -> Answer<Quantity> {
        Ok(Quantity { value: ride.read(read)?, of })
    });
}

/// Registers a reading of a temperature in the unit that `shown` makes of K.
fn temperature(Registry { word, engine, .. }: Registry, shown: fn(f64) -> f64) {
    engine.register_fn(word, move |ride: &mut Ride, name: &str| -> Answer<FLOAT> {
        let channel = known(name, Channel::is_temperature).map_err(|e| match Channel::named(name) {
            Some(other) => WordError::new(format!(
                "`{name}` is in {}, not a temperature; ask `ride.reading(\"{name}\")` for it",
                other.unit()
            )),
            None => e,
        })?;
        ride.read(|simulation| shown(simulation.reading(channel)))
    });
}

/// The channel with that name, among those that satisfy `counts`.
fn known(name: &str, counts: impl Fn(Channel) -> bool) -> Result<Channel, WordError> {
    let all = || Channel::ALL.into_iter().filter(|channel| counts(*channel)).map(Channel::name);
    Channel::named(name).filter(|channel| counts(*channel)).ok_or_else(|| {
        let (like, known) = (maybe(nearest(name, all()).as_deref()), all().collect::<Vec<_>>().join(", "));
        WordError::new(format!("there is no reading `{name}`{like}; readings: {known}"))
    })
}
