// Package evaluate runs check cases against this library. [Compute] computes what a case asks for
// from what it gives, [Judge] compares an answer with what the case expects, and [Run] does both.
// Cases of one's own run like those of package refdata:
//
//	err := refdata.Each(os.DirFS("mycases"), func(c refdata.Case) error {
//		fmt.Print(evaluate.Run(c).Failure())
//		return nil
//	})
//
// Not modelled: uncertainty of expected values beyond their tolerance, and correlation between
// outputs.
package evaluate
