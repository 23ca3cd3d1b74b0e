// Package visit interprets what was read on a bike with its rider: what it says about the load and
// the spring, what to change, and what to keep for the next visit.
//
//	Setting, predicted load, ring readings
//	   │ Series.Report
//	   ├─▶ ImpliedLoad of each reading, Estimate from all, Verdict
//	   ├─▶ Explanations: load, rate, preload, fill, friction, reading
//	   └─▶ Correction: preload or rate, or fill
//	Setting, what was felt ── Bracket.Plan ──▶ three settings, the next to try, the end
//	Record ── JSON ──▶ at the next visit: Record.Arrive with another rider or place
//	   │ Arrival
//	   ├─▶ Outcome as it was left, and as it is now; Correction
//	   └─▶ Ride: travel used, what the same hit would use otherwise; Report and Plan as above
//
// A [Setting] is one end as it is set. A [Series] is a setting with readings of a ring on the shaft:
//
//	report, err := series.Report()
//	if err != nil {
//		return err // names every bad field, such as readings[1].error
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
