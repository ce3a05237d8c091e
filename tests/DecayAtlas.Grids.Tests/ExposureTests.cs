namespace DecayAtlas.Grids.Tests;

public sealed class ExposureTests
{
    private static readonly ExposureDays Summer = new(new DateOnly(2023, 5, 20), new DateOnly(2023, 8, 18));

    [Fact]
    public void A_bag_from_20_May_to_18_August_feels_12_of_31_days_of_May_and_90_in_all()
    {
        Assert.Equal(
            [new ExposedMonth(5, 12, 31), new ExposedMonth(6, 30, 30), new ExposedMonth(7, 31, 31),
            new ExposedMonth(8, 17, 31)],
            Summer.Months());
        Assert.Equal(90, Summer.Count);
        double?[] warmth = [null, null, null, null, 12, 16, 19, 18, null, null, null, null];
        Assert.Equal((12 * 12 + 16 * 30 + 19 * 31 + 18 * 17) / 90.0, Summer.Mean(warmth)!.Value, 1e-12);
        Assert.Equal(12 * 12.0 / 31 + 16 + 19 + 18 * 17.0 / 31, Summer.Sum(warmth)!.Value, 1e-12);
        warmth[6] = null;
        Assert.Null(Summer.Mean(warmth));
    }

    [Fact]
    public void February_has_its_days_of_that_year_and_a_winter_goes_over_the_new_year()
    {
        ExposureDays winter = new(new DateOnly(2023, 12, 15), new DateOnly(2024, 3, 1));
        Assert.Equal([17, 31, 29], winter.Months().Select(m => m.Days));
        Assert.Equal(77, winter.Count);
        ExposureDays none = new(new DateOnly(2024, 3, 1), new DateOnly(2024, 3, 1));
        Assert.Empty(none.Months());
        Assert.Null(none.Mean(new double?[] { 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1 }));
        Assert.Empty(new ExposureDays(new DateOnly(2024, 3, 2), new DateOnly(2024, 3, 1)).Months());
    }

    [Fact]
    public void Soil_layers_count_by_the_length_they_share_with_the_bag()
    {
        SoilLayer[] layers = [new(0, 5), new(5, 15), new(15, 30)];
        DepthWeights shared = DepthWeights.Of(layers, 4, 12);
        Assert.Equal([0.125, 0.875, 0], shared.Weights);
        Assert.Equal(1, shared.CoveredShare);
        Assert.Equal([0, 1, 0], DepthWeights.Of(layers, 8, 8).Weights);
        Assert.Equal([0.5, 0.5, 0], DepthWeights.Of(layers, 5, 5).Weights);
        Assert.Equal(0.5, DepthWeights.Of(layers, 25, 35).CoveredShare);
        Assert.Equal(0, DepthWeights.Of(layers, 40, 50).CoveredShare);
        Assert.Equal([0, 0, 0], DepthWeights.Of(layers, 40, 50).Weights);
        Assert.Throws<GridException>(() => DepthWeights.Of(layers, 8, 4));
        Assert.Throws<GridException>(() => DepthWeights.Of([new SoilLayer(0, 10), new SoilLayer(5, 15)], 0, 5));
    }

    /// <summary>Allen et al. 1998, FAO Irrigation and Drainage Paper 56, examples 8 (Ra), 9 (daylight) and 20 (Hargreaves, Lyon, July);
    /// from memory.</summary>
    [Fact]
    public void Radiation_daylight_and_Hargreaves_are_those_of_the_examples_of_FAO_56()
    {
        int september3 = new DateOnly(2001, 9, 3).DayOfYear;
        Assert.Equal(246, september3);
        Assert.Equal(32.2, Evapotranspiration.ExtraterrestrialRadiation(-20, september3), 0.05);
        Assert.Equal(11.7, Evapotranspiration.DaylightHours(-20, september3), 0.05);
        Assert.Equal(40.6, Evapotranspiration.ExtraterrestrialRadiation(45.72, 196), 0.1);
        Assert.Equal(5.0, Evapotranspiration.Hargreaves(20.7, 26.6, 14.8, 40.6), 0.05);
        Assert.Equal(0, Evapotranspiration.ExtraterrestrialRadiation(80, 355));
        Assert.Equal(24, Evapotranspiration.DaylightHours(80, 172));
        Assert.Equal(5.0 * 31, Evapotranspiration.HargreavesOfMonth(45.72, 7, 20.7, 26.6, 14.8)!.Value, 3.0);
        Assert.Null(Evapotranspiration.HargreavesOfMonth(45.72, 7, 20.7, null, 14.8));
    }

    /// <summary>
    /// Thornthwaite 1948 by hand for twelve months of 20 degrees on the equator: I = 12 x 4^1.514 = 97.888, a = 2.1409,
    /// 16 (200 / 97.888)^2.1409 = 73.93 mm for 30 days of 12 hours; and for 30 degrees the parabola gives 164.35.
    /// </summary>
    [Fact]
    public void Thornthwaite_comes_out_as_by_hand()
    {
        double heat = 12 * Math.Exp(1.514 * Math.Log(4));
        Assert.Equal(97.888, heat, 0.02);
        IReadOnlyList<double> mild = Evapotranspiration.Thornthwaite(0, [.. Enumerable.Repeat<double?>(20, 12)])!;
        Assert.Equal(73.93, mild[3], 0.2);
        Assert.Equal(mild[3] * 31 / 30, mild[0], 0.01);
        Assert.Equal(-415.85 + 32.24 * 30 - 0.43 * 900, Evapotranspiration.Thornthwaite(0, [.. Enumerable.Repeat<double?>(30, 12)])![3],
            1e-9);
        double?[] cold = [-10, -8, -2, 4, 10, 15, 18, 16, 11, 4, -3, -8];
        IReadOnlyList<double> north = Evapotranspiration.Thornthwaite(60, cold)!;
        Assert.Equal(0, north[0]);
        Assert.True(north[6] > north[7]);
        Assert.Null(Evapotranspiration.Thornthwaite(60, [null, .. cold[1..]]));
    }

    /// <summary>UNEP 1997: bounds 0.05, 0.20, 0.50, 0.65.</summary>
    [Fact]
    public void Dryness_has_the_bounds_of_the_world_atlas()
    {
        Assert.Equal(
            ["hyper-arid", "arid", "semi-arid", "dry-subhumid", "humid"],
            new[] { 0.04, 0.05, 0.2, 0.5, 0.65 }.Select(Climate.ClassOf));
        Assert.Equal(0.5, Climate.AridityIndex(400, 800));
        Assert.Null(Climate.AridityIndex(400, 0));
    }

    /// <summary>Lloyd and Taylor 1994: 1 at 10 degrees (by construction); the values at 0 and 25 degrees by hand from the
    /// formula.</summary>
    [Fact]
    public void Respiration_at_10_degrees_is_the_measure_of_all_others()
    {
        Assert.Equal(1, Climate.TemperatureResponse(10), 1e-12);
        Assert.Equal(Math.Exp(5.50803 - 6.70491), Climate.TemperatureResponse(0), 1e-5);
        Assert.Equal(Math.Exp(308.56 * (0.0178508 - 0.0140805)), Climate.TemperatureResponse(25), 1e-3);
        Assert.Equal(0, Climate.TemperatureResponse(-46.02));
        Assert.Equal(1, Climate.TemperatureResponse(Summer, [.. Enumerable.Repeat<double?>(10, 12)])!.Value, 1e-12);
    }

    /// <summary>
    /// Peel et al. 2007, table 1. Station normals (degrees, mm) from memory, rounded, of the order of the WMO normals 1961-1990
    /// or 1991-2020; the classes are those commonly stated for the stations, and none lies near a bound.
    /// </summary>
    [Theory]
    [InlineData("Af", "Singapore", "26.5 27.1 27.5 28 28.3 28.3 27.9 27.9 27.6 27.6 27 26.4",
        "234 114 170 154 171 130 154 148 156 155 266 331")]
    [InlineData("Am", "Cairns", "27.6 27.5 26.7 25.4 23.6 21.9 21.2 22 23.7 25.3 26.7 27.4", "392 447 429 192 91 46 30 27 33 46 93 177")]
    [InlineData("Aw", "Darwin", "28.3 28.2 28.3 28.2 26.8 24.9 24.7 25.8 27.6 29 29.3 29", "423 361 319 99 21 2 1 5 15 70 142 248")]
    [InlineData("BWh", "Cairo", "14 15 17.5 21.5 25 27.5 28 28 26.5 24 19 15", "5 4 4 1 1 0 0 0 0 1 4 6")]
    [InlineData("BWk", "Kashgar", "-5 0 8 16 20 24 26 25 20 12.5 4 -3", "2 4 5 5 10 9 9 8 5 3 2 2")]
    [InlineData("BSh", "Niamey", "24 27 31 34 34 31.5 29 28 29 30.5 28 25", "0 0 4 6 35 70 150 170 85 15 0 0")]
    [InlineData("BSk", "Denver", "-1 1 4.5 9 14 19.5 23.5 22.5 17.5 10.5 4 -1", "10 12 33 45 57 50 51 46 29 24 19 12")]
    [InlineData("Csa", "Athens", "10 10.5 12.5 16 20.5 25 28 28 24 19 15 11.5", "57 47 41 31 23 11 6 6 14 53 58 69")]
    [InlineData("Csb", "Porto", "9.5 10 12 13 15.5 18.5 20 20 19 16 12.5 10.5", "158 140 90 116 98 46 18 27 71 138 158 195")]
    [InlineData("Cfa", "Buenos Aires", "25 23.7 21.6 17.9 14.5 11.8 11 12.9 14.6 17.7 20.5 23.2",
        "121 122 154 107 92 50 53 63 78 139 131 104")]
    [InlineData("Cfb", "London", "5 5 7.5 10 13 16 18.5 18.5 15.5 12 8 5.5", "55 41 42 44 49 45 45 50 49 69 59 55")]
    [InlineData("Cwa", "Hong Kong", "16.3 16.8 19.1 22.6 26.1 27.9 28.8 28.6 27.7 25.5 21.8 17.9",
        "25 54 82 175 305 456 377 432 328 101 38 27")]
    [InlineData("Dwa", "Seoul", "-2 0.7 6 13 18.5 22.7 25.3 26.1 21.6 15 7.5 0.2", "17 28 37 73 104 130 414 348 142 52 51 22")]
    [InlineData("Dfb", "Moscow", "-6.5 -6.7 -1 6.7 13.2 17 19.2 17 11.3 5.6 -1.2 -5.2", "52 41 35 37 49 80 85 82 68 71 55 52")]
    [InlineData("Dfc", "Fairbanks", "-22 -19 -11.5 0.5 9.5 15.7 17 13.8 7.4 -3.9 -16 -20", "15 11 6 8 15 35 55 48 28 21 17 16")]
    [InlineData("Dfd", "Yakutsk", "-38.6 -33.8 -20.1 -4.8 7.5 16.4 19.5 15.2 6.1 -7.8 -27 -37.6", "9 8 6 9 20 38 39 38 30 20 17 12")]
    [InlineData("ET", "Longyearbyen", "-13 -13 -13 -9.5 -2.5 3.5 7 6 1.5 -4 -8 -11", "22 28 29 16 13 18 24 30 25 19 22 25")]
    [InlineData("EF", "Vostok", "-32 -44 -58 -65 -66 -65 -67 -68 -66 -57 -43 -32", "1 1 2 2 3 3 3 3 2 2 1 1")]
    public void A_station_gets_the_climate_class_it_is_known_for(string expected, string station, string warmth, string rain)
    {
        double?[] t = [.. warmth.Split(' ').Select(v => (double?)double.Parse(v, System.Globalization.CultureInfo.InvariantCulture))];
        double?[] p = [.. rain.Split(' ').Select(v => (double?)double.Parse(v, System.Globalization.CultureInfo.InvariantCulture))];
        Assert.True(expected == Climate.KoeppenClass(t, p), $"{station}: {Climate.KoeppenClass(t, p)}");
        Assert.Null(Climate.KoeppenClass([null, .. t[1..]], p));
    }

    /// <summary>
    /// Where a climate is both arid and polar, the arid class is given (Peel et al. 2007, table 1, asks it of every climate; Beck et
    /// al. 2018, Scientific Data 5:180214, state that B goes before the others; both from memory). Here the warmest month has 9
    /// degrees, 84 % of 95 mm fall in summer, and the threshold is 10 (2 x -2 + 28) = 240 mm, its half 120.
    /// </summary>
    [Fact]
    public void A_cold_desert_is_a_desert_and_with_enough_rain_tundra()
    {
        double?[] t = [-13, -12, -8, -3, 3, 7, 9, 8, 3, -3, -7, -8], dry = [2, 2, 3, 6, 10, 18, 22, 16, 8, 4, 2, 2];
        Assert.Equal(-2, t.Average()!.Value, 1e-12);
        Assert.Equal(95, dry.Sum()!.Value);
        Assert.Equal(80, dry[3..9].Sum()!.Value);
        Assert.Equal("BWk", Climate.KoeppenClass(t, dry));
        Assert.Equal("BSk", Climate.KoeppenClass(t, [.. dry.Select(p => 2 * p)]));
        Assert.Equal("ET", Climate.KoeppenClass(t, [.. dry.Select(p => 3 * p)]));
    }
}
