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
// # Schemas and their numbers
//
// A text that is kept names its form and a number: wheelrate/job/1 ([setup.JobSchema]), wheelrate/sheet/1
// ([setup.SheetSchema]), wheelrate/record/1 ([RecordSchema]). The number goes up only if a field of the form
// is renamed or taken away, or means something else, such as another unit for a plain number. It stays with
//   - a new field, code, or kind of spring or curve: a text without it means what it meant
//   - a check that refuses more or less, even a field that has to be given from now on
//   - another spelling of a value
//   - another way to compute an answer
//
// A version reads the texts of every number up to its own. It says that a text is of a newer version
// ([units.ErrNewer]), and by which fields, if its number or that of the job within is later, or if a record
// has a field that is not known. Programs write records, so that such a field is no typo. People write jobs:
// there an unknown field is an error that names the field that was probably meant. A code that is not known
// is refused in a job and marked in a record.
//
// Records are read for ever. What a stricter check refuses in one is marked, see [ReadRecord]. What needs it
// refuses the record by that field, which is then to be corrected in the record.
//
// Not modelled: a rider who does not stand still, a tilted floor, springs that soften as they warm.
package visit
