// Package day is the day run: levels, vessel, pump and changeover over the hours of a
// day, by events and, as an independent check, at one-second steps.
//
// Stage: an analysis over the circuit. It takes a Plant (a circuit, its store, vessel and
// controls; Of makes one) and a Schedule (what is drawn and when, how the main presses,
// when the power is out) and gives a Result: pressures, starts, refills, litres, energy,
// hours unserved. Between two events the circuit is quasi-steady: flows follow from the
// level of the store and the water in the vessel, which integrate. It reads no file,
// takes no chance and keeps no clock; findings are read off a Result by a function of
// their own.
//
// What it assumes, and what it leaves out:
//
//   - no water hammer and no inertia: nothing faster than a second is seen;
//   - a vessel that takes or gives less than 1 mL/s stands with the pipe it hangs on;
//   - a float valve seals within a thousandth of its band, and opens at two;
//   - a main that is off presses nothing on the lock-out;
//   - without a vessel pressure stays in the pipe behind a non-return valve until a tap
//     is opened.
package day
