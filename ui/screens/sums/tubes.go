package sums

import (
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect/measure"
)

func runOut() sum {
	return sum{lang.L("Run-out of a loose tube"), lang.L("A loose tube is turned on two supports; the gauge swings by twice its bow."),
		[]field{
			{key: "swing", label: lang.L("Full swing of the gauge"), unit: measure.Millimetre, hint: "0.06"},
			{key: "dial", label: lang.L("Dial gauge right within ±"), unit: measure.Millimetre, usual: "0.02"},
		}, func(in inputs) (result, error) {
			return plain(measure.RunOutBow(in.within("swing", "dial")))
		}}
}

func parallel() sum {
	return sum{lang.L("Are the tubes parallel"), lang.L("The distance between the two tubes at their end, less the one at the crown."),
		[]field{
			{key: "crown", label: lang.L("Distance at the crown"), unit: measure.Millimetre, hint: "131.2"},
			{key: "end", label: lang.L("Distance at the end"), unit: measure.Millimetre, hint: "131.3"},
			{key: "calliper", label: lang.L("Calliper right within ±"), unit: measure.Millimetre, usual: "0.03"},
		}, func(in inputs) (result, error) {
			return plain(measure.Parallelism(in.within("crown", "calliper"), in.within("end", "calliper")))
		}}
}

func rust() sum {
	return sum{lang.L("Degree of rusting"), lang.L("For rust on coated steel, such as a coil: the rusted share of the surface as a degree Ri after ISO 4628-3, its pictures taken as upper limits."),
		[]field{
			{key: "area", label: lang.L("Rusted area"), unit: measure.SquareMM, hint: "8"},
			{key: "whole", label: lang.L("Area looked at"), unit: measure.SquareMM, hint: "1000"},
			{key: "guess", label: lang.L("Rusted area right within ±"), unit: measure.SquareMM, usual: "2"},
		}, func(in inputs) (result, error) {
			return plain(measure.Rust(in.within("area", "guess"), in.exactly("whole"), measure.UpperLimit))
		}}
}
