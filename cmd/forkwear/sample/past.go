package sample

import (
	"context"
	"time"

	"forkwear/inspect"
)

// season is how old the history may be on which the sample shop decides: to fit
// every trend anew for each of a hundred visits would take most of the time.
const season = 90 * 24 * time.Hour

// past is the library as the desk of the sample shop sees it: trends rest on the
// visits that were over when it was last brought up to date.
type past struct {
	inspect.Library
	open map[inspect.ID]bool // visits that are begun and not over
	asOf time.Time
	rows map[string][]inspect.TrendRow
}

// refresh brings the trends up to date where they are older than a season or
// than since.
func (p *past) refresh(now, since time.Time) {
	if p.rows == nil || now.Sub(p.asOf) > season || !since.Before(p.asOf) {
		p.rows, p.asOf = map[string][]inspect.TrendRow{}, now
	}
}

// TrendRows implements inspect.Library.
func (p *past) TrendRows(ctx context.Context, check string) ([]inspect.TrendRow, error) {
	if rows, ok := p.rows[check]; ok {
		return append([]inspect.TrendRow(nil), rows...), nil
	}
	all, err := p.Library.TrendRows(ctx, check)
	if err != nil {
		return nil, err
	}
	var rows []inspect.TrendRow
	for _, r := range all {
		if !p.open[r.Reading.VisitID] {
			rows = append(rows, r)
		}
	}
	if p.rows != nil {
		p.rows[check] = rows
	}
	return append([]inspect.TrendRow(nil), rows...), nil
}
