//! A string as an elastic rod that its hold jerks along: the force wave of an impact.
//!
//! One-dimensional waves in a rod with free far ends (textbook; Kolsky, Stress Waves in Solids, chapter 3):
//! on each side of the hold F(t) = Z [v(t) - 2 v(t - T) + 2 v(t - 2T) - ...] with T = 2 L / c.

use super::seek::peak_between;
use std::f64::consts::PI;

/// The rod that a string is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rod {
    /// Force per speed at the head of a wave, Z = A sqrt(E rho) = sqrt(E A m'), in N s/m.
    pub impedance_n_s_per_m: f64,
    /// Speed of the wave, c = sqrt(E / rho) = sqrt(E A / m'), in m/s.
    pub wave_m_per_s: f64,
}

/// The acceleration of a hold in an impact: half a sine wave.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HalfSine {
    /// Its peak in m/s2, above zero.
    pub peak_m_per_s2: f64,
    /// How long it lasts in s, above zero.
    pub duration_s: f64,
}

impl HalfSine {
    /// The pulse of a given peak that changes the speed by `change_m_per_s`; none unless both are above zero.
    pub fn with_speed_change(peak_m_per_s2: f64, change_m_per_s: f64) -> Option<Self> {
        let sound = peak_m_per_s2 > 0.0 && change_m_per_s > 0.0;
        sound.then(|| Self { peak_m_per_s2, duration_s: PI * change_m_per_s / (2.0 * peak_m_per_s2) })
    }

    /// The speed change of the whole pulse in m/s: 2 a t / pi.
    pub fn speed_change_m_per_s(self) -> f64 {
        2.0 / PI * self.peak_m_per_s2 * self.duration_s
    }

    /// The speed of the hold `t_s` after the pulse began, in m/s.
    pub fn speed_m_per_s(self, t_s: f64) -> f64 {
        let phase = PI * (t_s / self.duration_s).clamp(0.0, 1.0);
        self.speed_change_m_per_s() / 2.0 * (1.0 - phase.cos())
    }

    /// The acceleration of the hold `t_s` after the pulse began, in m/s2.
    pub fn acceleration_m_per_s2(self, t_s: f64) -> f64 {
        let phase = PI * (t_s / self.duration_s).clamp(0.0, 1.0);
        self.peak_m_per_s2 * phase.sin()
    }
}

impl Rod {
    /// How many round trips of the wave in one pulse make a side move as one mass.
    const ROUND_TRIPS_OF_ONE_MASS: f64 = 64.0;
    /// Places in time at which a peak is looked for.
    const SAMPLES: u32 = 400;
    /// Share of the largest sample from which on a peak between samples might be the largest.
    const NEAR_THE_LARGEST: f64 = 0.9;

    /// A rod of modulus `modulus_pa`, area `area_m2` and `mass_kg_per_m`.
    pub fn new(modulus_pa: f64, area_m2: f64, mass_kg_per_m: f64) -> Self {
        Self {
            impedance_n_s_per_m: (modulus_pa * area_m2 * mass_kg_per_m).sqrt(),
            wave_m_per_s: (modulus_pa * area_m2 / mass_kg_per_m).sqrt(),
        }
    }

    /// The time in which the wave runs to the end of a side of `side_m` and back, in s.
    pub fn round_trip_s(&self, side_m: f64) -> f64 {
        2.0 * side_m / self.wave_m_per_s
    }

    /// The force of one side of `side_m` on a hold that moves by `pulse`, at `t_s`, in N.
    ///
    /// A side so short that the wave runs through it `ROUND_TRIPS_OF_ONE_MASS` times during the pulse
    /// is taken as a mass, Z T / 2, which the series tends to.
    pub fn side_force_n(&self, side_m: f64, pulse: HalfSine, t_s: f64) -> f64 {
        let round_trip_s = self.round_trip_s(side_m);
        if round_trip_s * Self::ROUND_TRIPS_OF_ONE_MASS <= pulse.duration_s {
            return self.impedance_n_s_per_m * round_trip_s / 2.0 * pulse.acceleration_m_per_s2(t_s);
        }
        let mut speed_m_per_s = pulse.speed_m_per_s(t_s);
        let (mut sign, mut back_s) = (-2.0, t_s - round_trip_s);
        while back_s > 0.0 {
            speed_m_per_s += sign * pulse.speed_m_per_s(back_s);
            sign = -sign;
            back_s -= round_trip_s;
        }
        self.impedance_n_s_per_m * speed_m_per_s
    }

    /// The largest force on a hold between two sides, of either sign, in N.
    ///
    /// Looked for until the wave of the longer side has come back twice after the pulse; later peaks of two
    /// unlike sides could be larger in a rod without any damping, up to [`Rod::bound_n`].
    pub fn half_sine_peak_n(&self, sides_m: [f64; 2], pulse: HalfSine) -> f64 {
        let longest_m = sides_m[0].max(sides_m[1]);
        let window_s = pulse.duration_s + 2.0 * self.round_trip_s(longest_m);
        let force_n = |t_s: f64| -> f64 {
            sides_m.iter().filter(|side_m| **side_m > 0.0).map(|m| self.side_force_n(*m, pulse, t_s)).sum()
        };
        let step_s = window_s / f64::from(Self::SAMPLES);
        let sizes: Vec<f64> =
            (0..=Self::SAMPLES + 1).map(|sample| force_n(step_s * f64::from(sample)).abs()).collect();
        let largest_n = sizes[..=Self::SAMPLES as usize].iter().copied().fold(0.0, f64::max);
        // Between samples the force may be larger than at any: every peak that comes near is closed in on.
        let peaks = (1..=Self::SAMPLES).zip(sizes.windows(3)).filter(|(_, around)| {
            around[1] >= around[0].max(around[2]) && around[1] > Self::NEAR_THE_LARGEST * largest_n
        });
        peaks
            .map(|(sample, _)| {
                let around_s = [sample - 1, sample + 1].map(|sample| step_s * f64::from(sample));
                peak_between(around_s.into(), 1.0e-3 * step_s, |t_s| force_n(t_s).abs()).1
            })
            .fold(largest_n, f64::max)
    }

    /// What no impact of this speed change exceeds, however short or long, in N: Z dv for each side with rail.
    ///
    /// Each side answers an acceleration a(s) >= 0 with Z times the integral of a(s) k(t - s), where k is a
    /// square wave of +1 and -1: never more than Z times the integral of a.
    pub fn bound_n(&self, sides_m: [f64; 2], change_m_per_s: f64) -> f64 {
        let sides = sides_m.iter().filter(|side_m| **side_m > 0.0).count();
        sides as f64 * self.impedance_n_s_per_m * change_m_per_s
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The rod of 60E1 (EN 13674-1: 76.70 cm2, 60.21 kg/m) with E 210 GPa.
    fn rod() -> Rod {
        Rod::new(210.0e9, 76.70e-4, 60.21)
    }

    /// 4 g (with 9.81) over 50 ms.
    fn pulse() -> HalfSine {
        HalfSine { peak_m_per_s2: 4.0 * 9.81, duration_s: 0.05 }
    }

    fn near(value: f64, expected: f64, share: f64) {
        assert!((value - expected).abs() <= share * expected.abs(), "{value} against {expected}");
    }

    // Project reference (mechanics.md 4), worked out there with an independent program.
    #[test]
    fn the_waves_of_60e1_have_311_kn_per_m_per_s_and_5172_m_per_s() {
        near(rod().impedance_n_s_per_m, 311.0e3, 0.005);
        near(rod().wave_m_per_s, 5172.0, 0.001);
        near(pulse().speed_change_m_per_s(), 1.25, 0.005);
    }

    // Project reference (mechanics.md 4): half sine of 4 g over 50 ms.
    #[test]
    fn a_half_sine_gives_the_peaks_of_the_reference() {
        let at_an_end = |length_m: f64| rod().half_sine_peak_n([0.0, length_m], pulse());
        let in_the_middle = |length_m: f64| rod().half_sine_peak_n([length_m / 2.0, length_m / 2.0], pulse());
        near(at_an_end(36.0), 109.0e3, 0.01);
        near(at_an_end(250.0), 389.0e3, 0.005);
        near(at_an_end(500.0), 389.0e3, 0.005);
        near(in_the_middle(250.0), 776.0e3, 0.005);
        near(in_the_middle(500.0), 778.0e3, 0.005);
    }

    // A finer search: samples twenty times as close, at sides whose peaks lie between the samples.
    #[test]
    fn a_peak_between_samples_is_found() {
        for (sides_m, duration_s) in [([13.0, 87.0], 0.05), ([4.0, 246.0], 0.02), ([30.0, 470.0], 0.01)] {
            let pulse = HalfSine { peak_m_per_s2: 40.0, duration_s };
            let window_s = duration_s + 2.0 * rod().round_trip_s(sides_m[1]);
            let force_n = |t_s: f64| -> f64 {
                sides_m.iter().map(|side_m| rod().side_force_n(*side_m, pulse, t_s)).sum::<f64>().abs()
            };
            let fine_n =
                (0..=8_000).map(|at| force_n(window_s * f64::from(at) / 8_000.0)).fold(0.0, f64::max);
            let found_n = rod().half_sine_peak_n(sides_m, pulse);
            assert!(found_n >= fine_n * (1.0 - 1.0e-9), "{sides_m:?}: {found_n} below {fine_n}");
            near(found_n, fine_n, 1.0e-3);
        }
    }

    // The bound: each side adds Z dv, whatever its length.
    #[test]
    fn no_peak_exceeds_the_bound_and_long_sides_reach_it() {
        for sides_m in [[0.0, 36.0], [3.0, 97.0], [18.0, 18.0], [120.0, 380.0], [250.0, 250.0]] {
            let (peak_n, bound_n) = (
                rod().half_sine_peak_n(sides_m, pulse()),
                rod().bound_n(sides_m, 2.0 / PI * 4.0 * 9.81 * 0.05),
            );
            assert!(peak_n <= bound_n * (1.0 + 1e-9), "{sides_m:?}: {peak_n} over {bound_n}");
        }
        near(rod().half_sine_peak_n([0.0, 400.0], pulse()), rod().bound_n([0.0, 400.0], 1.2490), 0.001);
    }

    // Newton: over a slow pulse a short rod is a mass. A side of 5 m weighs 301 kg.
    #[test]
    fn a_short_side_in_a_slow_pulse_is_a_mass() {
        let slow = HalfSine { peak_m_per_s2: 10.0, duration_s: 0.5 };
        near(rod().half_sine_peak_n([0.0, 5.0], slow), 5.0 * 60.21 * 10.0, 0.001);
        let just_a_rod = HalfSine { peak_m_per_s2: 10.0, duration_s: 0.12 };
        near(rod().half_sine_peak_n([0.0, 5.0], just_a_rod), 5.0 * 60.21 * 10.0, 0.03);
    }

    // Momentum: the force over time that stops a rod's mass is m dv, once the waves have averaged out.
    #[test]
    fn the_impulse_of_whole_round_trips_is_the_change_of_momentum() {
        let (side_m, pulse) = (60.0, pulse());
        let round_trip_s = rod().round_trip_s(side_m);
        // After the pulse F alternates about zero with period 2T: average the impulse over one period.
        let steps = 40_000_u32;
        let end_s = pulse.duration_s + 4.0 * round_trip_s;
        let dt_s = end_s / f64::from(steps);
        let (mut impulse_n_s, mut sum, mut count) = (0.0, 0.0, 0.0);
        for step in 0..steps {
            let t_s = dt_s * (f64::from(step) + 0.5);
            impulse_n_s += rod().side_force_n(side_m, pulse, t_s) * dt_s;
            if t_s > end_s - 2.0 * round_trip_s {
                sum += impulse_n_s;
                count += 1.0;
            }
        }
        near(sum / count, side_m * 60.21 * pulse.speed_change_m_per_s(), 0.001);
    }

    #[test]
    fn a_pulse_is_found_from_its_peak_and_speed_change_or_not_at_all() {
        let found = HalfSine::with_speed_change(4.0 * 9.81, pulse().speed_change_m_per_s()).unwrap();
        near(found.duration_s, 0.05, 1e-12);
        assert_eq!(HalfSine::with_speed_change(0.0, 1.0), None);
        assert_eq!(HalfSine::with_speed_change(1.0, 0.0), None);
        assert!(found.speed_m_per_s(-1.0).abs() < 1e-12);
        near(found.speed_m_per_s(1.0), found.speed_change_m_per_s(), 1e-12);
    }
}
