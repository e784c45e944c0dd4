//! The parts of a machine and the defaults of every number, in SI.

use super::parameter::{Confidence, Parameter, parts};
use crate::dimension::Dimension;
use crate::units::{HOUR, INCH, RPM, ZERO_C};

const MM: f64 = 1e-3;
/// A wear of mm³ for each newton and metre.
const MM3_NM: f64 = 1e-9;

parts! {
    /// The petrol engine with its throttle and governors.
    motor: Motor {
        /// speed at which the warm motor idles
        idle: AngularSpeed = 1700.0 * RPM, 800.0 * RPM, 4000.0 * RPM, Chosen, "idle speed";
        /// how far the throttle's stop lies below a governed idle
        stop_below: AngularSpeed = 300.0 * RPM, 0.0, 4000.0 * RPM, Practice, "stop below the governed idle";
        /// speed range over which the idle governor opens the throttle fully
        idle_band: AngularSpeed = 40.0, 1.0, 400.0, Assumed, "idle governor's speed range";
        /// time constant of the throttle linkage
        throttle_lag: Time = 0.15, 0.01, 5.0, Assumed, "throttle time constant";
        /// speed at which the top governor has closed the throttle
        no_load: AngularSpeed = 3800.0 * RPM, 1000.0 * RPM, 20000.0 * RPM, Published, "top no-load speed";
        /// speed at which the top governor begins to close the throttle
        full_load: AngularSpeed = 3600.0 * RPM, 900.0 * RPM, 19000.0 * RPM, Published, "top full-load speed";
        /// speed below which the motor stalls
        stall: AngularSpeed = 700.0 * RPM, 100.0 * RPM, 3000.0 * RPM, Assumed, "stall speed";
        /// friction torque at standstill
        drag: Torque = 2.6, 0.0, 50.0, Assumed, "motor friction torque";
        /// rise of the friction torque with speed
        drag_slope: TorqueSlope = 0.003, 0.0, 1.0, Assumed, "rise of motor friction with speed";
        /// moment of inertia with carrier and shoes
        inertia: Inertia = 0.021004, 1e-5, 10.0, Published, "motor inertia";
        /// heat into the block while running
        block_heat: Power = 1200.0, 0.0, 1e5, Assumed, "heat into the block";
        /// share of the brake power that heats the block
        block_share: Ratio = 0.18, 0.0, 1.0, Assumed, "share of power into the block";
        /// heat held by the head over the block at the rated rise
        head_heat: Energy = 300e3, 0.0, 1e8, Assumed, "heat stored in the head";
        /// rated rise of the block over ambient
        head_rise: TemperatureDifference = 75.0, 1.0, 500.0, Assumed, "rated rise of the block";
        /// time constant of filling the head's heat while running
        head_fill: Time = 60.0, 1.0, 1e5, Assumed, "time constant of head filling";
        /// time constant of the head's heat soaking into the block after stopping
        head_drain: Time = 120.0, 1.0, 1e5, Assumed, "time constant of head draining";
    }
    /// The vehicle, driven through the chain.
    vehicle: Vehicle {
        /// mass with rider and load
        mass: Mass = 190.0, 1.0, 5000.0, Chosen, "vehicle mass";
        /// rolling radius of the driven wheel
        wheel_radius: Length = 0.165, 0.02, 1.0, Chosen, "wheel radius";
        /// moment of inertia of all wheels together
        wheel_inertia: Inertia = 0.10, 0.0, 100.0, Chosen, "wheel inertia";
        /// reduction from drum to wheel
        ratio: Ratio = 6.0, 0.5, 100.0, Chosen, "gear ratio";
        /// efficiency of the chain drive
        chain_efficiency: Ratio = 0.95, 0.5, 1.0, Assumed, "chain efficiency";
        /// rolling resistance coefficient
        rolling: Ratio = 0.03, 0.0, 0.5, Chosen, "rolling resistance";
        /// drag coefficient times frontal area
        drag_area: Area = 0.6, 0.0, 10.0, Chosen, "drag area";
        /// throttle opening per speed error of the rider who holds a speed
        rider_gain: SlipSlope = 0.5, 0.001, 100.0, Assumed, "rider's throttle gain";
    }
    /// The carrier's shoes and the springs that hold them back.
    clutch: Clutch {
        /// number of shoes
        shoes: Ratio = 4.0, 1.0, 24.0, Chosen, "number of shoes";
        /// mass of one shoe with its lining
        shoe_mass: Mass = 0.110, 1e-3, 10.0, Chosen, "shoe mass";
        /// radius of the shoe's centre of gravity at contact, new lining
        shoe_radius: Length = 40.0 * MM, 1.0 * MM, 500.0 * MM, Chosen, "shoe's radius of gravity";
        /// travel from rest to the drum, new lining
        gap: Length = 0.8 * MM, 0.0, 20.0 * MM, Chosen, "shoe travel";
        /// spring rate per shoe
        spring_rate: Stiffness = 10e3, 0.0, 1e7, Chosen, "spring rate";
        /// engagement speed, new lining at 20 °C (68 °F)
        engagement: AngularSpeed = 2000.0 * RPM, 300.0 * RPM, 15000.0 * RPM, Chosen, "engagement speed";
        /// loss of spring modulus per kelvin over 20 °C (68 °F)
        hot_modulus: PerKelvin = 0.28e-3, 0.0, 2e-3, Published, "loss of spring modulus with heat";
        /// spring force lost per decade of time at 120 °C (248 °F)
        relaxation: Ratio = 0.02, 0.0, 0.2, Assumed, "spring relaxation";
        /// rise in temperature that doubles the relaxation
        relaxation_doubling: TemperatureDifference = 25.0, 1.0, 200.0, Assumed, "temperature rise that doubles relaxation";
        /// friction force of a shoe in its guide: it touches later and lets go earlier in speed
        guide_friction: Force = 0.0, 0.0, 200.0, Assumed, "friction of the shoe's guide";
        /// lever ratio of friction to normal moment about the shoe's pivot (leading and trailing forms)
        lever: Ratio = 0.5, 0.0, 10.0, Chosen, "lever ratio";
        /// guide angle of the wedge form
        guide_angle: Angle = 0.3, 0.0, 1.4, Chosen, "guide angle";
        /// ratio of static to kinetic friction
        peak: Ratio = 1.0, 1.0, 2.0, Chosen, "ratio of static to kinetic friction";
        /// factor for the arc over which the pressure is spread
        arc_factor: Ratio = 1.0, 0.5, 2.0, Chosen, "arc factor";
    }
    /// The springs one by one: the force of each over the nominal one.
    springs: Springs {
        /// scatter of the forces within a set, as a standard deviation over the force
        scatter: Ratio = 0.0, 0.0, 0.15, Assumed, "scatter of the springs";
        /// force of the whole set over the nominal one
        lot: Ratio = 1.0, 0.5, 1.5, Chosen, "force of the springs' lot";
        /// force of the first shoe's spring over the nominal one; 0 if it is broken. The others likewise
        first: Ratio = 1.0, 0.0, 2.0, Chosen, "force of the first spring";
        /// force of the second shoe's spring
        second: Ratio = 1.0, 0.0, 2.0, Chosen, "force of the second spring";
        /// force of the third shoe's spring
        third: Ratio = 1.0, 0.0, 2.0, Chosen, "force of the third spring";
        /// force of the fourth shoe's spring
        fourth: Ratio = 1.0, 0.0, 2.0, Chosen, "force of the fourth spring";
        /// force of the fifth shoe's spring
        fifth: Ratio = 1.0, 0.0, 2.0, Chosen, "force of the fifth spring";
        /// force of the sixth shoe's spring
        sixth: Ratio = 1.0, 0.0, 2.0, Chosen, "force of the sixth spring";
    }
    /// The friction lining on the shoes.
    lining: Lining {
        /// friction coefficient, cold, dry, at rest
        friction: Ratio = 0.40, 0.02, 1.0, Chosen, "lining friction";
        /// temperature at which friction begins to fade
        fade_knee: Temperature = 200.0 + ZERO_C, 300.0, 1200.0, Published, "fade temperature";
        /// temperature range of the fade
        fade_span: TemperatureDifference = 150.0, 1.0, 1000.0, Assumed, "fade range";
        /// share of friction lost when faded
        fade_share: Ratio = 0.5, 0.0, 0.95, Assumed, "friction lost by fade";
        /// relative change of friction per slip speed
        speed_slope: SlipSlope = -0.002, -0.02, 0.02, Assumed, "change of friction with slip speed";
        /// thickness when new
        thickness: Length = 3.0 * MM, 0.5 * MM, 20.0 * MM, Chosen, "lining thickness";
        /// width along the shaft
        width: Length = 25.4 * MM, 1.0 * MM, 500.0 * MM, Chosen, "lining width";
        /// share of the circumference that is lined
        arc_share: Ratio = 0.60, 0.01, 1.0, Chosen, "lined share of the circumference";
        /// thermal conductivity
        conductivity: Conductivity = 0.80, 0.05, 100.0, Published, "lining conductivity";
        /// density
        density: Density = 1600.0, 100.0, 1e4, Published, "lining density";
        /// specific heat
        specific_heat: SpecificHeat = 1250.0, 100.0, 5000.0, Published, "lining specific heat";
        /// contact conductance of rubbed faces, each side has twice this
        contact: HeatTransfer = 2e4, 100.0, 1e7, Assumed, "lining contact conductance";
        /// conductance across the open gap
        open_gap: HeatTransfer = 40.0, 0.0, 1e4, Assumed, "conductance across the open gap";
        /// thickness of the oil film at which most of the lining's friction is lost
        oil_film: Length = 1e-6, 1e-8, 1e-4, Assumed, "oil film that spoils the lining's friction";
        /// ratio of the friction of an oiled lining to that of a dry one
        oiled_share: Ratio = 0.25, 0.02, 1.0, Published, "friction of an oiled lining";
        /// wear volume per slip energy at 100 °C (212 °F)
        wear: BurnConstant = 40e-15, 1e-16, 1e-12, Assumed, "lining wear";
        /// relative rise of wear per kelvin
        wear_slope: PerKelvin = 0.0075, 0.0, 0.1, Assumed, "rise of lining wear with temperature";
        /// temperature above which wear follows the activation energy
        wear_knee: Temperature = 230.0 + ZERO_C, 300.0, 1200.0, Published, "temperature of fast lining wear";
        /// activation energy of wear above its knee
        wear_energy: MolarEnergy = 60e3, 0.0, 500e3, Assumed, "activation energy of lining wear";
        /// share of its volume that is open pores
        pores: Ratio = 0.10, 0.0, 0.6, Assumed, "lining's pores";
        /// time in which oil on the face soaks in at 80 °C (176 °F)
        soak_time: Time = 60.0, 1.0, 1e5, Assumed, "time to soak into the lining";
        /// time in which soaked oil smokes out at 100 °C (212 °F)
        smoke_time: Time = 10.0 * HOUR, 60.0, 1e4 * HOUR, Assumed, "time to smoke out of the lining";
        /// share of its pores full of oil that takes 63 % of the lining's friction
        soak_spoils: Ratio = 0.15, 0.001, 10.0, Assumed, "soaked oil that spoils the lining's friction";
        /// depth of wear that beds a new lining in
        bedding_depth: Length = 20e-6, 1e-7, 1e-3, Assumed, "depth of bedding in";
        /// share of a new lining that does not touch; 0 leaves bedding in out
        bedding_share: Ratio = 0.0, 0.0, 0.9, Assumed, "share of a new lining that does not touch";
        /// temperature at which a face glazes within a minute
        glaze_from: Temperature = 300.0 + ZERO_C, 300.0, 5000.0, Assumed, "temperature of glazing";
        /// depth of wear that takes the glaze off
        glaze_depth: Length = 10e-6, 1e-7, 1e-3, Assumed, "depth of the glaze";
        /// share of friction that a glazed lining loses; 0 leaves it out
        glaze_share: Ratio = 0.0, 0.0, 0.9, Assumed, "friction lost by glaze";
        /// slip energy per lined area that leaves 37 % of the oil on the lining
        wipe: WipeEnergy = 1e7, 1e4, 1e10, Assumed, "energy that wipes oil off the lining";
    }
    /// The drum with web and sprocket.
    drum: Drum {
        /// inside radius, the rubbed face
        radius: Length = 50.8 * MM, 5.0 * MM, 500.0 * MM, Chosen, "drum radius";
        /// wall thickness
        wall: Length = 3.2 * MM, 0.5 * MM, 50.0 * MM, Chosen, "drum wall thickness";
        /// width of the band
        band: Length = 32.0 * MM, 1.0 * MM, 500.0 * MM, Chosen, "drum width";
        /// thickness of the web
        web: Length = 3.59 * MM, 0.1 * MM, 50.0 * MM, Chosen, "web thickness";
        /// moment of inertia with sprocket
        inertia: Inertia = 1.1015e-3, 1e-6, 1.0, Chosen, "drum inertia";
        /// area of the web exposed to air
        web_area: Area = 78.22e-4, 1e-5, 1.0, Chosen, "web area";
        /// area of the sprocket exposed to air
        sprocket_area: Area = 40e-4, 1e-5, 1.0, Chosen, "sprocket area";
        /// radius of the sprocket as a disc
        sprocket_radius: Length = 35.0 * MM, 1.0 * MM, 500.0 * MM, Chosen, "sprocket radius";
        /// number of sprocket teeth
        teeth: Ratio = 10.0, 5.0, 60.0, Chosen, "sprocket teeth";
        /// chain pitch
        pitch: Length = 9.525 * MM, 1.0 * MM, 60.0 * MM, Chosen, "chain pitch";
        /// thermal conductivity of the wall
        conductivity: Conductivity = 48.0, 1.0, 500.0, Published, "drum conductivity";
        /// density of the wall
        density: Density = 7850.0, 500.0, 2e4, Published, "drum density";
        /// specific heat of the wall
        specific_heat: SpecificHeat = 490.0, 100.0, 2000.0, Published, "drum specific heat";
        /// emissivity of band, web and sprocket
        emissivity: Ratio = 0.8, 0.0, 1.0, Assumed, "drum emissivity";
    }
    /// Heat capacities and the links between the parts.
    heat: Heat {
        /// heat capacity of the web
        web: HeatCapacity = 111.95, 0.1, 1e5, Chosen, "heat capacity of the web";
        /// heat capacity of sprocket and drum hub
        sprocket: HeatCapacity = 106.0, 0.1, 1e5, Chosen, "heat capacity of the sprocket";
        /// heat capacity of bushing and its oil
        bushing: HeatCapacity = 18.80, 0.1, 1e5, Chosen, "heat capacity of the bushing";
        /// heat capacity of the washer
        washer: HeatCapacity = 0.78188, 0.01, 1e5, Chosen, "heat capacity of the washer";
        /// heat capacity of all shoes
        shoes: HeatCapacity = 191.98, 0.1, 1e5, Chosen, "heat capacity of the shoes";
        /// heat capacity of the carrier
        carrier: HeatCapacity = 120.0, 0.1, 1e5, Chosen, "heat capacity of the carrier";
        /// heat capacity of the shaft's stub
        shaft: HeatCapacity = 64.0, 0.1, 1e5, Chosen, "heat capacity of the shaft";
        /// heat capacity of the motor's block
        block: HeatCapacity = 11e3, 1.0, 1e7, Chosen, "heat capacity of the block";
        /// lining back to shoes
        lining_shoes: Conductance = 24.0, 0.0, 1e4, Assumed, "conductance, lining to shoes";
        /// band to web
        band_web: Conductance = 2.2, 0.0, 1e4, Assumed, "conductance, band to web";
        /// web to sprocket
        web_sprocket: Conductance = 2.0, 0.0, 1e4, Assumed, "conductance, web to sprocket";
        /// sprocket to bushing
        sprocket_bushing: Conductance = 15.0, 0.0, 1e4, Assumed, "conductance, sprocket to bushing";
        /// bushing to shaft with a full film
        bushing_shaft_oiled: Conductance = 5.6, 0.0, 1e4, Assumed, "conductance, oiled bushing to shaft";
        /// bushing to shaft, dry
        bushing_shaft_dry: Conductance = 1.3, 0.0, 1e4, Assumed, "conductance, dry bushing to shaft";
        /// shoes to carrier
        shoes_carrier: Conductance = 0.8, 0.0, 1e4, Assumed, "conductance, shoes to carrier";
        /// carrier to shaft
        carrier_shaft: Conductance = 7.0, 0.0, 1e4, Assumed, "conductance, carrier to shaft";
        /// shaft to block
        shaft_block: Conductance = 0.35, 0.0, 1e4, Assumed, "conductance, shaft to block";
        /// drum's inner face to shoes, through the air inside
        drum_shoes: Conductance = 0.2, 0.0, 1e4, Assumed, "conductance, drum to shoes";
        /// block to ambient while running
        block_running: Conductance = 22.0, 0.01, 1e4, Assumed, "cooling of the running block";
        /// block to ambient when stopped
        block_stopped: Conductance = 4.0, 0.01, 1e4, Assumed, "cooling of the stopped block";
        /// shoes to ambient at 1800 rpm
        shoes_air: Conductance = 0.17, 0.0, 1e3, Assumed, "cooling of the shoes";
        /// carrier to ambient at 1800 rpm
        carrier_air: Conductance = 0.13, 0.0, 1e3, Assumed, "cooling of the carrier";
        /// least of shoes and carrier to ambient together
        inner_least: Conductance = 0.05, 1e-6, 1e3, Assumed, "least cooling of shoes and carrier";
        /// multiplier on all convection of the drum: its inner faces, hub and holes beyond band and discs; 0.8 in a guard
        convection: Ratio = 1.4, 0.1, 10.0, Practice, "drum convection";
        /// sprocket to the chain and its air at 200 rad/s of the drum
        chain: Conductance = 0.3, 0.0, 100.0, Assumed, "cooling by the chain";
    }
    /// The porous bronze bushing that the drum rides on.
    bushing: Bushing {
        /// bore
        bore: Length = 19.05 * MM, 2.0 * MM, 200.0 * MM, Chosen, "bushing bore";
        /// outside diameter
        outside: Length = 25.4 * MM, 3.0 * MM, 300.0 * MM, Chosen, "bushing outside diameter";
        /// length
        length: Length = 30.0 * MM, 2.0 * MM, 500.0 * MM, Chosen, "bushing length";
        /// interconnected porosity
        porosity: Ratio = 0.18, 0.01, 0.5, Published, "bushing porosity";
        /// radial running clearance
        clearance: Length = 25e-6, 2e-6, 500e-6, Chosen, "bushing clearance";
        /// thermal expansion of bronze by volume
        expansion: PerKelvin = 5.4e-5, 0.0, 1e-3, Published, "expansion of bronze";
        /// friction coefficient, oiled, on the tips of the faces
        friction_oiled: Ratio = 0.11, 0.001, 1.0, Published, "oiled bushing friction";
        /// friction coefficient, dry
        friction_dry: Ratio = 0.25, 0.001, 1.0, Assumed, "dry bushing friction";
        /// friction coefficient, dry and scored
        friction_scored: Ratio = 0.6, 0.001, 1.5, Assumed, "scored bushing friction";
        /// Sommerfeld number at which the film carries half the load
        mixed_number: Ratio = 0.1, 0.001, 10.0, Assumed, "Sommerfeld number of mixed friction";
        /// thermal conductivity of the oil
        oil_conductivity: Conductivity = 0.13, 0.05, 1.0, Published, "conductivity of the oil";
        /// weight that the bushing carries
        weight: Force = 8.0, 0.0, 1e4, Assumed, "load on the bushing";
        /// pull of the chain on the bushing without torque, both strands together
        chain_pull: Force = 20.0, 0.0, 1e4, Assumed, "chain pull at idle";
        /// shaking force of the motor across the pull
        shake: Force = 10.0, 0.0, 1e4, Assumed, "shaking of the bushing";
        /// wear constant on a film
        wear_film: WearConstant = 1.7e-19, 1e-23, 1e-3 * MM3_NM, Published, "bushing wear on a film";
        /// wear constant, oiled, on the tips of the faces
        wear_boundary: WearConstant = 1.7e-16, 1e-21, 1e-3 * MM3_NM, Published, "oiled bushing wear";
        /// wear constant, dry
        wear_dry: WearConstant = 1e-14, 1e-21, 1e-2 * MM3_NM, Assumed, "dry bushing wear";
        /// wear constant of its face on steel, once the washer is worn through
        wear_face: WearConstant = 5e-14, 1e-21, 1e-2 * MM3_NM, Assumed, "wear of bronze on steel";
        /// lubrication below which the bushing scores, as a share of a full one
        score_from: Ratio = 0.9, 0.5, 1.0, Assumed, "lubrication below which it scores";
        /// friction work per shadow area that seizes a dry bushing
        score_energy: WipeEnergy = 40e6, 1e5, 1e10, Assumed, "friction work that seizes a dry bushing";
        /// greatest torque of a seized bushing on the drum
        grab_torque: Torque = 5.0, 0.0, 100.0, Assumed, "torque of a seized bushing";
    }
    /// The thin fibre washer between bronze and steel.
    washer: Washer {
        /// inside diameter
        inside: Length = 19.5 * MM, 2.0 * MM, 200.0 * MM, Practice, "washer inside diameter";
        /// outside diameter
        outside: Length = 32.0 * MM, 3.0 * MM, 300.0 * MM, Practice, "washer outside diameter";
        /// thickness when new
        thickness: Length = 0.030 * INCH, 0.1 * MM, 10.0 * MM, Practice, "washer thickness";
        /// friction coefficient
        friction: Ratio = 0.15, 0.001, 1.0, Assumed, "washer friction";
        /// thermal conductivity
        conductivity: Conductivity = 0.291, 0.02, 10.0, Published, "washer conductivity";
        /// contact conductance of each face
        contact: HeatTransfer = 500.0, 10.0, 1e5, Assumed, "contact conductance of the washer";
        /// share of its friction heat that enters the fibre; the steel face takes the rest
        heat_share: Ratio = 0.054, 0.0, 1.0, Published, "friction heat into the washer";
        /// axial preload
        preload: Force = 4.0, 0.0, 1e3, Assumed, "washer preload";
        /// chain misalignment that pushes the drum sideways
        misalignment: Angle = 0.5 * std::f64::consts::PI / 180.0, 0.0, 0.2, Assumed, "chain misalignment";
        /// wear constant, oiled
        wear_oiled: WearConstant = 1e-14, 1e-18, 0.1 * MM3_NM, Assumed, "oiled washer wear";
        /// wear constant, dry
        wear_dry: WearConstant = 1e-13, 1e-18, 0.1 * MM3_NM, Assumed, "dry washer wear";
        /// ageing time at 105 °C (221 °F) that doubles the wear
        age_life: Time = 20000.0 * HOUR, HOUR, 1e6 * HOUR, Assumed, "washer ageing time";
        /// time at its class's temperature in which heat spends the fibre: 105 °C (221 °F) soaked, 90 °C (194 °F) dry
        heat_life: Time = 20000.0 * HOUR, HOUR, 1e6 * HOUR, Published, "washer life in heat";
        /// share of its volume that a soaked washer holds as oil
        oil_share: Ratio = 0.08, 0.001, 0.5, Assumed, "oil held by the washer";
        /// area of the rim exposed to air
        rim_area: Area = 76.60e-6, 0.0, 1e-2, Chosen, "washer rim area";
        /// share of the washer's oil thrown off per hour at 2500 rpm
        fling: PerSecond = 0.002 / HOUR, 0.0, 1.0, Assumed, "oil thrown off the washer";
        /// time constant of oil feeding the washer at 80 °C (176 °F)
        feed_time: Time = 600.0, 1.0, 1e6, Assumed, "time to feed the washer";
    }
    /// The cover over the drum and the stack beneath it.
    cover: Cover {
        /// height of the bushing proud of the sprocket
        proud: Length = 0.065 * INCH, 0.0, 20.0 * MM, Practice, "bushing proud of the sprocket";
        /// tolerance of the bushing's proud height
        proud_tolerance: Length = 0.005 * INCH, 0.0, 5.0 * MM, Practice, "tolerance of the proud bushing";
        /// tolerance of the washer's thickness
        washer_tolerance: Length = 0.003 * INCH, 0.0, 5.0 * MM, Practice, "tolerance of the washer";
    }
    /// Constants of the oil in the bushing.
    oiling: Oiling {
        /// time for oil to soak into the pores at 80 °C (176 °F)
        imbibe_time: Time = 75.0, 1.0, 1e4, Assumed, "time to soak oil up";
        /// area from which standing oil is thrown off
        fling_area: Area = 1e-3, 1e-5, 1e-1, Assumed, "area that throws oil off";
        /// thickness of the oil film below which none is thrown off
        fling_least: Length = 1e-6, 1e-8, 1e-4, Assumed, "film too thin to be thrown off";
        /// end leakage λ at 80 °C (176 °F) and 2500 rpm: nobody has measured it
        leak: PerSecond = 0.1 / HOUR, 0.0, 100.0 / HOUR, Assumed, "end leakage";
        /// run-off time at 80 °C (176 °F)
        run_off_time: Time = 1800.0, 10.0, 1e6, Assumed, "oil run-off time";
        /// evaporation at 100 °C (212 °F)
        evaporation: Evaporation = 3e-8, 0.0, 1e-4, Assumed, "oil evaporation";
        /// activation energy of evaporation
        evaporation_energy: MolarEnergy = 105e3, 0.0, 500e3, Assumed, "activation energy of evaporation";
        /// oxidation life at 100 °C (212 °F)
        oxidation_life: Time = 1000.0 * HOUR, HOUR, 1e6 * HOUR, Assumed, "oil oxidation life";
        /// grease release time at 70 °C (158 °F)
        grease_time: Time = 500.0 * HOUR, HOUR, 1e6 * HOUR, Assumed, "grease release time";
        /// share of the thrown-off oil that lands on the lining
        lining_share: Ratio = 0.03, 0.0, 1.0, Assumed, "thrown oil that lands on the lining";
        /// volume of one drop
        drop: Volume = 0.04e-6, 0.005e-6, 1e-6, Practice, "drop volume";
    }
    /// Limits at which the use of a part reaches 1, and temperature limits.
    limits: Limits {
        /// least washer thickness
        washer: Length = 0.25 * MM, 0.0, 10.0 * MM, Practice, "least washer thickness";
        /// greatest growth of the bushing's bore
        bushing: Length = 0.15 * MM, 1e-6, 5.0 * MM, Practice, "greatest bushing wear";
        /// least lining thickness
        lining: Length = 0.5 * MM, 0.0, 20.0 * MM, Practice, "least lining thickness";
        /// least margin of engagement over idle, at 20 °C (68 °F)
        spring_margin: AngularSpeed = 50.0 * RPM, -1000.0 * RPM, 5000.0 * RPM, Practice, "least margin over idle";
        /// oil fill at which service is due
        oil_service: Ratio = 0.70, 0.0, 1.0, Assumed, "oil fill, service due";
        /// oil fill below which the bushing runs dry
        oil_end: Ratio = 0.50, 0.0, 1.0, Published, "oil fill, bushing runs dry";
        /// least gap between drum and cover
        cover_gap: Length = 0.25 * MM, 0.0, 20.0 * MM, Practice, "least cover gap";
        /// greatest lining temperature
        lining_most: Temperature = 250.0 + ZERO_C, 300.0, 1500.0, Published, "lining temperature limit";
        /// lining temperature at which its resin bond goes
        lining_bond: Temperature = 350.0 + ZERO_C, 300.0, 5000.0, Practice, "lining bond temperature limit";
        /// greatest continuous lining temperature
        lining_steady: Temperature = 150.0 + ZERO_C, 300.0, 1500.0, Published, "continuous lining temperature limit";
        /// bushing temperature above which its oil degrades
        bushing_warning: Temperature = 90.0 + ZERO_C, 300.0, 1000.0, Published, "bushing temperature limit";
        /// washer temperature limit, oiled
        washer_oiled: Temperature = 105.0 + ZERO_C, 300.0, 1000.0, Published, "oiled washer temperature limit";
        /// washer temperature limit, dry
        washer_dry: Temperature = 90.0 + ZERO_C, 300.0, 1000.0, Published, "dry washer temperature limit";
        /// temperature at which the washer chars within a day
        washer_char: Temperature = 200.0 + ZERO_C, 300.0, 1000.0, Published, "charring temperature";
        /// greatest load times speed of the bushing over a launch
        bushing_load: PressureSpeed = 1.75e6, 1e3, 1e9, Published, "bushing load limit";
        /// service limit of the spring's music wire
        spring_most: Temperature = 121.0 + ZERO_C, 300.0, 1000.0, Published, "spring temperature limit";
    }
    /// The air and the road.
    surroundings: Surroundings {
        /// ambient temperature
        ambient: Temperature = 20.0 + ZERO_C, -40.0 + ZERO_C, 70.0 + ZERO_C, Chosen, "ambient temperature";
        /// pressure of the air
        pressure: Pressure = 101_325.0, 50e3, 110e3, Chosen, "air pressure";
        /// wind added to the vehicle's own speed
        wind: Speed = 0.0, 0.0, 40.0, Chosen, "wind speed";
        /// slope of the road, rise over run
        grade: Ratio = 0.0, -0.5, 0.5, Chosen, "road grade";
    }
}
