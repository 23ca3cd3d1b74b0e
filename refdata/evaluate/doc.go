// Package evaluate runs check cases against this library. [Compute] computes what a case asks for
// from what it gives, [Judge] compares an answer with what the case expects, and [Run] does both.
// Cases of one's own run like those of package refdata:
//
//	for c, err := range refdata.Cases(os.DirFS("mycases")) {
//		if err != nil {
//			return err
//		}
//		fmt.Print(evaluate.Run(c).Failure())
//	}
//
// Not modelled: uncertainty of expected values beyond their tolerance, and correlation between
// outputs.
package evaluate
