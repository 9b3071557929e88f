"""The rooms: each turns an address into a record, and the record into a page by its template."""
