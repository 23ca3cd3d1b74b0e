// Package evaluate runs check cases against this library. [Compute] computes
// what a case asks for from what it gives, [Judge] compares an answer with what
// the case expects, [Run] does both, and a [Summary] counts. Files of others run
// as those of package refdata do:
//
//	var s evaluate.Summary
//	err := refdata.Each(os.DirFS("mycases"), func(c refdata.Case) error {
//		j := evaluate.Run(c)
//		fmt.Print(j.Failure())
//		s.Add(j)
//		return nil
//	})
//
// Not modelled: uncertainty of expected values beyond their tolerance, and
// correlation between outputs.
package evaluate
