"""Ring 4: one file per thing a person does; one deed, one transaction; knows neither HTTP nor JSON."""
