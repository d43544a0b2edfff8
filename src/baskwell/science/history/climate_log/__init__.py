"""Logger files of temperature and humidity: text or workbook in, clean series out."""

from baskwell.science.history.climate_log.read import read_climate_log
from baskwell.science.history.climate_log.series import ClimateLog, ClimateSeries

__all__ = ["ClimateLog", "ClimateSeries", "read_climate_log"]
