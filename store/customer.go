package store

import (
	"context"
	"database/sql"

	"forkwear/inspect"
)

func customerColumns(c *inspect.Customer) columns {
	return columns{
		text("id", &c.ID), text("name", &c.Name), text("phone", &c.Phone), text("email", &c.Email),
		text("reach_by", &c.ReachBy), text("note", &c.Note), moment("created", &c.Created),
	}
}

// SaveCustomer keeps a new or changed customer.
func (db *DB) SaveCustomer(ctx context.Context, c inspect.Customer) error {
	return db.write(ctx, func(tx *sql.Tx) error { return db.saveCustomer(ctx, tx, c) })
}

func (db *DB) saveCustomer(ctx context.Context, tx *sql.Tx, c inspect.Customer) error {
	if err := db.upsert(ctx, tx, "customer", c.ID, []string{"id"}, customerColumns(&c)); err != nil {
		return err
	}
	return indexCustomer(ctx, tx, c)
}

// Customer returns one customer.
func (db *DB) Customer(ctx context.Context, id inspect.ID) (inspect.Customer, error) {
	c, err := single(ctx, db.reader, customerColumns, "customer", id, "FROM customer WHERE id = ?")
	return c, refuse(db.file, err)
}

// FindCustomers searches names, phones and mail addresses, sorted by name. No
// text finds all; a limit of 0 or less is none.
func (db *DB) FindCustomers(ctx context.Context, text string, limit int) ([]inspect.Customer, error) {
	condition, args := matching(text)
	found, err := gather(ctx, db.reader, func(c *inspect.Customer) columns { return customerColumns(c).of("c") },
		customersFound(condition), append(args, limited(limit))...)
	return found, refuse(db.file, err)
}

// customersFound reads the index customer_search_name in its order and stops at
// the limit.
func customersFound(condition string) string {
	return `FROM (SELECT customer_id, name FROM customer_search WHERE ` + condition + ` ORDER BY name, customer_id LIMIT ?) s
		JOIN customer c ON c.id = s.customer_id ORDER BY s.name, s.customer_id`
}
