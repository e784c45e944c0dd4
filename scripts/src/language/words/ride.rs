//! Words of a ride that move the machine or let time pass.

use crate::language::quantity::{Number, Quantity};
use crate::language::ride::Ride;
use crate::language::word::{Registry, Word, word};
use crate::language::word_error::{Answer, WordError, held, whole};
use crate::read::units::short;
use rhai::{Dynamic, FnPtr, NativeCallContext};
use slipsoak_engine::duty::{self, End, Segment, Task, Trace};
use slipsoak_engine::parts::Dimension as D;
use std::sync::Arc;

/// Time limit of a rider to reach a speed or to stop, s.
const PATIENCE: f64 = 120.0;

/// The rows.
pub(crate) const WORDS: &[Word] = &[
    word(
        "ride.idle(time) or (time, speed): throttle closed, brake on until still, motor idling; at a fast idle speed, as after a cold start",
        "ride.idle(120.s, 2000.rpm); ride.idle(30.s);",
        |mut to| {
            passes(to.again(), Task::Idle);
            two(to, |word, time, speed| {
                let comma = time.as_int().ok().zip(Number::of(speed)).and_then(|(whole, speed)| comma(whole, speed));
                if let Some(meant) = comma {
                    return Err(WordError::new(format!(
                        "`{word}` takes a time and a speed of the motor, and was given two times: write `{word}({meant})` with a decimal point"
                    )));
                }
                let speed = held(word, "speed", speed, &duty::FAST_IDLE, D::AngularSpeed)?;
                Ok(lasting(Task::FastIdle(speed), length(word, time)?))
            });
        },
    )
    .also("wait pause sleep stand start_motor motor_on"),
    word(
        "ride.launch(speed) or (speed, opening): full throttle, or this opening (0 to 1), until the speed is reached",
        "ride.launch(25.km_h);",
        |mut to| {
            let launch =
                |speed, opening| Segment::Ride(Task::Throttle(opening), End::Reached { speed, within: PATIENCE });
            one(to.again(), move |word, speed| Ok(launch(pace(word, speed)?, 1.0)));
            // The speed is read first: a decimal comma would split it into two numbers.
            two(to, move |word, speed, share| Ok(launch(pace(word, speed)?, opening(word, share)?)));
        },
    )
    .also("accelerate start go"),
    word("ride.throttle(opening, time): throttle held open by this share, 0 to 1", "ride.throttle(0.5, 20.s);", |to| {
        two(to, |word, share, time| Ok(lasting(Task::Throttle(opening(word, share)?), length(word, time)?)));
    })
    .also("gas"),
    word("ride.hold(speed, time): throttle controlled to hold a speed", "ride.hold(25.km_h, 12.s);", |to| {
        let held = |context: NativeCallContext, ride: &mut Ride, speed: Dynamic, time: Dynamic| -> Answer<()> {
            let (speed, time) = held_for(ride, &speed, &time)?;
            ride.act(&context, lasting(Task::Hold(speed), time))
        };
        to.engine.register_fn(to.word, held);
    })
    .also("drive cruise ride keep speed"),
    word("ride.coast(time): throttle closed, brake off: the machine may creep or roll", "ride.coast(5.s);", |to| {
        passes(to, Task::Coast);
    })
    .also("roll"),
    word(
        "ride.brake(deceleration) or (deceleration, time): slows at this deceleration until still, or for a time",
        "ride.brake(1.5);",
        |mut to| {
            one(to.again(), |word, rate| {
                Ok(Segment::Ride(Task::Brake(slowing(word, rate)?), End::Still { within: PATIENCE }))
            });
            two(to, |word, rate, time| {
                // Two whole numbers may be one number with a decimal comma.
                if let (Ok(rate), Ok(time @ 1..)) = (rate.as_int(), time.as_int()) {
                    return Err(WordError::new(format!(
                        "`brake({rate}, {time})` slows by {rate} m/s² for {time} s: if {rate}.{time} m/s² is meant, write `brake({rate}.{time})` with a decimal point, else `brake({rate}, {time}.s)`"
                    )));
                }
                Ok(lasting(Task::Brake(slowing(word, rate)?), length(word, time)?))
            });
        },
    )
    .also("stop halt slow decelerate"),
    word(
        "ride.brake_to(speed) or (speed, deceleration): slows to a lower speed, at 1.5 m/s² or at this deceleration",
        "ride.launch(25.km_h); ride.brake_to(10.km_h);",
        |mut to| {
            let slow = |rate, speed| Segment::Ride(Task::Brake(rate), End::Slowed { speed, within: PATIENCE });
            one(to.again(), move |word, speed| Ok(slow(duty::EASY_BRAKE, pace(word, speed)?)));
            two(to, move |word, speed, rate| Ok(slow(slowing(word, rate)?, pace(word, speed)?)));
        },
    ),
    word(
        "ride.follow(trace): throttle and brake controlled to follow a recorded trace",
        r#"ride.follow(trace("ece15.csv"));"#,
        |to| {
            to.engine.register_fn(to.word, |context: NativeCallContext, ride: &mut Ride, trace: Arc<Trace>| {
                let end = trace.points.last().map_or(0.0, |p| p.0);
                ride.act(&context, lasting(Task::Follow(trace), end))
            });
        },
    ),
    word("ride.motor_off(time): motor switched off, brake on", "ride.motor_off(10.min);", |to| {
        passes(to, Task::Off);
    })
    .also("off shutdown stop_motor"),
    word("ride.park(time): put away with the motor off, for hours", "ride.park(12.hours);", |to| {
        passes(to, Task::Off);
    })
    .also("rest cool"),
    word(
        "ride.times(number, function): repeats a part of the duty, as a loop does: in a repeated duty such parts are skipped, one inside the other too",
        "ride.times(3, |ride| { ride.launch(25.km_h); ride.brake(1.5); });",
        |to| {
            // The ride is taken by value, so that the function may use it.
            let times = |context: NativeCallContext, ride: Ride, number: Dynamic, part: FnPtr| -> Answer<()> {
                let number = whole("times", "number", &number, (1.0, PASSES))?;
                for _ in 0..number {
                    ride.pass(|| part.call_within_context::<Dynamic>(&context, (ride.clone(),)).map(drop))?;
                }
                Ok(())
            };
            to.engine.register_fn(to.word, times);
        },
    )
    .also("repeat loop every"),
];

/// Most passes of `times`.
const PASSES: f64 = 1e5;

type Made = Result<Segment, WordError>;

/// Registers a word of one argument.
pub(crate) fn one(Registry { word, engine, .. }: Registry, make: impl Fn(&'static str, &Dynamic) -> Made + 'static) {
    engine.register_fn(word, move |context: NativeCallContext, ride: &mut Ride, value: Dynamic| -> Answer<()> {
        ride.act(&context, make(word, &value)?)
    });
}

/// Registers a word of two arguments.
fn two(Registry { word, engine, .. }: Registry, make: impl Fn(&'static str, &Dynamic, &Dynamic) -> Made + 'static) {
    let act = move |context: NativeCallContext, ride: &mut Ride, first: Dynamic, second: Dynamic| -> Answer<()> {
        ride.act(&context, make(word, &first, &second)?)
    };
    engine.register_fn(word, act);
}

/// Registers a word for a task that lasts for a time.
fn passes(to: Registry, task: Task) {
    one(to, move |word, time| Ok(lasting(task.clone(), length(word, time)?)));
}

fn lasting(task: Task, time: f64) -> Segment {
    Segment::Ride(task, End::After(time))
}

/// The time that is meant by `1,5.min`: a whole number, and a time in place of a speed.
fn comma(whole: i64, speed: Number) -> Option<String> {
    let of = speed.of.filter(|of| *of == D::Time && speed.value > 0.0)?;
    Some(format!("{whole}.{}", Quantity { value: speed.value, of }.written()))
}

fn length(word: &'static str, given: &Dynamic) -> Result<f64, WordError> {
    held(word, "time", given, &duty::TIME, D::Time)
}

fn pace(word: &'static str, given: &Dynamic) -> Result<f64, WordError> {
    held(word, "speed", given, &duty::SPEED, D::Speed)
}

fn opening(word: &'static str, given: &Dynamic) -> Result<f64, WordError> {
    held(word, "opening", given, &duty::OPENING, D::Ratio)
}

fn slowing(word: &'static str, given: &Dynamic) -> Result<f64, WordError> {
    held(word, "deceleration", given, &duty::DECELERATION, D::Acceleration)
}

/// Speed and time of `hold`, with a check for exchanged arguments. Without units they count as exchanged if the speed is beyond the
/// machine and the time would be a speed within its reach.
fn held_for(ride: &Ride, speed: &Dynamic, time: &Dynamic) -> Result<(f64, f64), WordError> {
    if let Some((first, second)) = Number::of(speed).zip(Number::of(time)) {
        let written = |number: Number, of| Quantity { value: number.value, of }.written();
        if (first.of, second.of) == (Some(D::Time), Some(D::Speed)) {
            return Err(exchanged(&written(first, D::Time), &written(second, D::Speed)));
        }
    }
    let (pace, length) = (pace("hold", speed)?, length("hold", time)?);
    let machine = ride.machine();
    let fastest = machine.motor.no_load / machine.vehicle.ratio * machine.vehicle.wheel_radius;
    if pace > 1.2 * fastest && length > 0.0 && length <= fastest {
        return Err(exchanged(&format!("{}.s", short(pace)), &format!("{}.m_s", short(length))));
    }
    Ok((pace, length))
}

/// The refusal of a time and a speed in place of a speed and a time.
fn exchanged(time: &str, speed: &str) -> WordError {
    WordError::new(format!(
        "`hold` takes the speed first and then the time, and was given {time} and {speed}; did you mean `hold({speed}, {time})`?"
    ))
}
