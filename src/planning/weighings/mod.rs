//! Readings of scales: how they compare with what is computed, and which single cause would explain a difference.
//!
//! All of it is about the train as it stands before departure, level and straight. [`Weighed`] compares each
//! reading, each wagon and the train. [`explain`] asks of every single thing that may be otherwise than the plan
//! has it (a string elsewhere, missing, exchanged or of another mass, a wagon's tare, a reading) how well the
//! readings would fit then, and says so only where it is clear: it tells "cannot tell" where several explain them
//! equally well. Only plausible causes are tried: a tare is wrong by at most half of it, a string's mass by a factor of
//! two; these bounds are common practice and have no source. Which tier a string lies in leaves no trace in readings on level track.
//!
//! Readings are taken as independent, with errors spread by the normal law; a scale's tolerance is taken as twice
//! the standard deviation (expanded uncertainty with k = 2, JCGM 100:2008, 6.3.3).

mod causes;
mod chances;
mod compare;
mod evidence;
mod explain;
mod repeated;
mod room;
mod shift;
#[cfg(test)]
mod trial;
#[cfg(test)]
mod trials;

pub use causes::Cause;
pub use compare::{ComparedReading, SumOfReadings, Weighed};
pub use explain::{Diagnosis, Explanation, Told, explain};
pub use repeated::Contradiction;
