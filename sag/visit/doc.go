// Package visit interprets what was read on a bike with its rider: what it says about the load and
// the spring, what to change, and what to keep for the next visit.
//
//	Setting ── Setting.Assemble ──┐
//	Record ── JSON ── Record.Arrive, with another rider or place: an Arrival, and in it
//	                              ▼
//	                           Assembly
//	   ├─▶ Report of ring readings: ImpliedLoad of each, Estimate from all, Verdict, and
//	   │   Explanations by load, rate, preload, fill, friction or reading
//	   ├─▶ Correction: preload or rate, or fill
//	   ├─▶ Plan of a Bracket, from what was felt: three settings, the next to try, the end
//	   └─▶ Arrival.Ride: travel used, what the same hit would use otherwise
//
// A [Setting] is one end as it is set, and an [Assembly] is that put together:
//
//	end, err := setting.Assemble(nil)
//	if err != nil {
//		return err // names every bad field, such as coil.rate
//	}
//	report, err := end.Report(predicted, readings)
//	if err != nil {
//		return err // such as readings[1].error
//	}
//	fmt.Println(report.Verdict, report.Estimate.Load)
//	for _, e := range report.Explanations {
//		fmt.Println(e.Text)
//	}
//
// A [Record] keeps what was fitted and measured at a visit, and an [Arrival] is one end of it that
// comes back.
//
// Not modelled: a rider who does not stand still, a tilted floor, springs that soften as they warm.
package visit
