package words

import (
	"testing"

	"forkwear/inspect"
	"forkwear/inspect/shop"
)

func TestBillWords(t *testing.T) {
	eur := func(n int64) inspect.Money { return inspect.Money{Minor: n, Currency: "EUR"} }
	b := shop.Bill{Lines: 3, Accepted: 1, Declined: 1, All: shop.Amount{Money: eur(12050), Unknown: 2, Minutes: 45},
		Yes: shop.Amount{Money: eur(10000)}, GoAhead: eur(10000)}
	for _, tc := range []struct{ got, want string }{
		{Proposed(b), "2 lines to replace · from 120.50 EUR · about 45" + Thin + "min of work · 2 not priced"},
		{Agreed(b), "The customer said yes to 1, no to 1, 1 not asked yet · yes comes to 100.00 EUR"},
		{GoAhead(b), "Go ahead up to 100.00 EUR: over it by 20.50 EUR, ask the customer first"},
		{Proposed(shop.Bill{}), "Nothing to replace"},
		{Proposed(shop.Bill{Lines: 2, Declined: 2}), "Nothing to replace: all was declined"},
		{Agreed(shop.Bill{Lines: 2, Declined: 2}), "The customer said no to 2"},
		{Agreed(shop.Bill{}), ""},
		{Agreed(shop.Bill{Lines: 1}), "The customer has not been asked yet"},
		{GoAhead(shop.Bill{Lines: 1}), ""},
		{GoAhead(shop.Bill{Lines: 1, GoAhead: eur(5), All: shop.Amount{Money: eur(5)}}), "Go ahead up to 0.05 EUR: within it"},
		{GoAhead(shop.Bill{Lines: 1, GoAhead: eur(5), All: shop.Amount{Unknown: 1}}), "Go ahead up to 0.05 EUR: not sure, prices are missing"},
		{Price(shop.Amount{}), "no charge"},
		{Price(shop.Amount{Unknown: 1}), "no price yet"},
		{Price(shop.Amount{Money: eur(1)}), "0.01 EUR"},
	} {
		if tc.got != tc.want {
			t.Errorf("%q, want %q", tc.got, tc.want)
		}
	}
}
