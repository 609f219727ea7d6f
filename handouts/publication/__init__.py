"""What pages and sheets share: texts as HTML, views of prose, cautions and conditions, fonts."""
