// Package advice says what to do about a bike that comes back to the stand.
//
// A [Visit] is the record of the last visit, or the job of a first one, with all that was found today:
// rings, rides, fills, what the rider felt, who rides and in which weather. Its [Answer] has what to do
// at each end in plain words, the numbers behind it, and the record for the next visit:
//
//	v, err := advice.ReadVisit(file, nil, nil)
//	if err != nil {
//		return err // names every field that does not parse
//	}
//	a, err := v.Answer()
//	if err != nil {
//		return err // names every bad field, such as rear.readings[0].error
//	}
//	for _, row := range a.Rows() {
//		fmt.Println(row)
//	}
//	_, err = a.Next.WriteTo(next)
//
// What it is worked out from is package visit's.
//
// Not modelled: what is seen and heard at the stand, such as oil on a stanchion or play in a bearing.
package advice
