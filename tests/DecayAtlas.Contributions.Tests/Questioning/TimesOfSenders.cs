using System.Globalization;
using DecayAtlas.Contributions.Tests.Layout;

namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Days as the number of a day in its year, in the names of columns, or as hours and weeks in the soil. 2025 is no leap year, so
/// that its day 134 is 14 May and 224 is 12 August; counted on a calendar.</summary>
public class TimesOfSenders
{
    private static string Table(string times, Func<int, string> written) => $"Hole,Lat,Long,Litter,Before (g),After (g),{times}\n"
        + string.Concat(Enumerable.Range(1, 4).Select(hole => $"{hole},48.1,9.2,fast,2.4{hole},1.3{hole},{written(hole)}\n"
            + $"{hole},48.1,9.2,slow,2.6{hole},2.0{hole},{written(hole)}\n"));

    private static IEnumerable<(DateOnly, DateOnly)> Days(IEnumerable<BagRow> bags) =>
        bags.OrderBy(bag => bag.BurialId, StringComparer.Ordinal).Select(bag => (bag.BuriedOn, bag.RetrievedOn!.Value)).Distinct();

    private static readonly (DateOnly, DateOnly)[] Expected =
        [(new DateOnly(2025, 5, 14), new DateOnly(2025, 8, 12)), (new DateOnly(2025, 5, 14), new DateOnly(2025, 8, 14))];

    [Theory]
    [InlineData("Buried (day of year),Dug up (day of year)")]
    [InlineData("Vergraben (Tag des Jahres),Ausgegraben (Tag des Jahres)")]
    [InlineData("Enfoui (jour de l'année),Déterré (jour de l'année)")]
    [InlineData("Enterrado (día del año),Recogido (día del año)")]
    public void The_number_of_a_day_is_a_day_of_the_year_that_is_asked(string names)
    {
        string table = Table(names, hole => hole < 3 ? "134,224" : "134,226");
        Assert.Equal(["date-year"], AskedSheet.Ask(table).Ids());
        Assert.Equal(Expected, Days(AskedSheet.Read(table, ("date-year", "2025"))));
    }

    [Theory]
    [InlineData("Buried,Exposure (hours)", 24.0)]
    [InlineData("vergraben,Liegedauer (h)", 24.0)]
    [InlineData("enfoui le,Durée (heures)", 24.0)]
    [InlineData("enterrado,duración (semanas)", 1 / 7.0)]
    public void Hours_and_weeks_in_the_soil_become_days(string names, double perDay)
    {
        string table = Table(names, hole => "2025-05-14," + ((hole < 3 ? 91 : 84) * perDay).ToString("0.####", CultureInfo.InvariantCulture));
        Assert.Equal([(new DateOnly(2025, 5, 14), new DateOnly(2025, 8, 13)), (new DateOnly(2025, 5, 14), new DateOnly(2025, 8, 6))],
            Days(AskedSheet.Read(table)));
    }

    // three months from 14 May are to 14 August, counted on a calendar; a twelfth of 365.25 days is 30.44 days, and three are 91.3
    [Theory]
    [InlineData("Buried,Exposure (months)", "3", "calendar", 14)]
    [InlineData("Buried,Exposure (months)", "3", "mean", 13)]
    [InlineData("vergraben,Liegedauer", "3 Monate", "calendar", 14)]
    [InlineData("enterrado,meses", "3", "calendar", 14)]
    [InlineData("enfoui le,durée (années)", "0,25", "mean", 13)]
    public void Months_and_years_in_the_soil_are_asked_about(string names, string time, string answer, int dug)
    {
        string table = Table(names, _ => $"2025-05-14,\"{time}\"");
        Assert.Equal(["months"], AskedSheet.Ask(table).Ids());
        Assert.Equal([(new DateOnly(2025, 5, 14), new DateOnly(2025, 8, dug))], Days(AskedSheet.Read(table, ("months", answer))));
        Assert.Contains("retrieved-on", AskedSheet.Ask(table, ("months", "none")).Ids());
    }

    [Theory]
    [InlineData("Buried,Weeks", "13")]
    [InlineData("vergraben,Wochen", "13")]
    [InlineData("vergraben,Woche(n)", "13")]
    [InlineData("vergraben,Dauer", "13 Wochen")]
    [InlineData("enfoui le,Durée (jours)", "13 semaines")]
    [InlineData("enterrado,duración", "91 días")]
    public void Weeks_alone_in_the_name_or_in_the_cells_are_weeks(string names, string time) =>
        Assert.Equal([(new DateOnly(2025, 5, 14), new DateOnly(2025, 8, 13))], Days(AskedSheet.Read(Table(names, _ => $"2025-05-14,{time}"))));

    [Theory]
    [InlineData("Year")]
    [InlineData("Years of exposure")]
    public void A_year_is_no_duration(string name) =>
        Assert.Equal(["retrieved-on"], AskedSheet.Ask(Table("Buried," + name, _ => "2025-05-14,2025")).Ids());

    // a workbook holds days, and the questions about them show them as the language of the sender does
    [Theory]
    [InlineData("de", "14.05.2025", "14. Mai 2025")]
    [InlineData("en", "2025-05-14", "14 May 2025")]
    [InlineData("es", "14/05/2025", "14 de mayo de 2025")]
    [InlineData("fr", "14/05/2025", "14 mai 2025")]
    public void Days_are_shown_as_the_language_writes_them(string language, string shown, string spoken)
    {
        object?[][] rows = [["Hole", "Lat N", "Long E", "Litter", "Before (g)", "After (g)", "Buried", "Days in the ground"],
            .. Enumerable.Range(1, 4).SelectMany(hole => new object?[][]
            {
                [(double)hole, 48.1, 9.2, "fast", 2.4 + hole / 100.0, 1.3 + hole / 100.0, new DateCell(45791), 90.0],
                [(double)hole, 48.1, 9.2, "slow", 2.6 + hole / 100.0, 2 + hole / 100.0, new DateCell(45791), 90.0],
            })];
        Inquiry inquiry = AskedSheet.Of(new XlsxMaker().Sheet("Data", rows).ToBytes(), language);
        Assert.Contains(spoken, inquiry.Told.Single(told => told.Code == "days-to-day").Text, StringComparison.Ordinal);
        TidyTable table = LaidOut.Of(new XlsxMaker().Sheet("Data", rows).ToBytes());
        AskedColumn buried = AskedColumn.Of(table, table.Rows).Single(column => column.Name == "Buried");
        Phrases words = SenderWords.Find(language)!;
        Assert.Equal((shown, shown), (buried.Spoken(0, words), buried.SeenAt(0).In(words).Text));
    }

    // from 14 May to 14 August are 92 days, to 14 November 184; a quarter and half of 365.25 days are 91.31 and 182.63
    [Theory]
    [InlineData("calendar", 92, 184)]
    [InlineData("mean", 91.31, 182.63)]
    public void Months_beside_k_and_S_are_counted_from_the_day_of_burial_too(string answer, double three, double six)
    {
        const string Rates = "Place,Lat,Long,k per day,S,n,Duration (months)\nMire,48.1,9.2,0.02,0.3,5,3\nHeath,48.3,9.4,0.015,0.2,5,6\n";
        (string, string)[] others = [("method", "two-litter"), ("buried-on", "2025-05-14")];
        Assert.Equal(["months"], AskedSheet.Ask(Rates, others).Ids());
        Assert.Equal([three, six], AskedSheet.Tables(Rates, [.. others, ("months", answer)]).Results
            .OrderBy(result => result.ExposureDays).Select(result => Math.Round(result.ExposureDays!.Value, 2)));
    }

    // a day that is asked for, and 90 days behind it
    [Fact]
    public void Days_in_the_soil_are_counted_from_a_day_that_the_sender_says()
    {
        string table = Table("Days in the ground", _ => "90");
        Assert.Equal(["buried-on"], AskedSheet.Ask(table).Ids());
        Assert.Equal([(new DateOnly(2025, 5, 14), new DateOnly(2025, 8, 12))],
            Days(AskedSheet.Read(table, ("buried-on", "2025-05-14"))));
    }

    [Theory]
    [InlineData("14/05/2025", "12/08/2025", "dmy")]
    [InlineData("05/14/2025", "08/12/2025", "mdy")]
    [InlineData("2025-05-14", "2025-08-12", null)]
    [InlineData("12/05/2025", "09/08/2025", "dmy")]
    public void Days_in_the_names_of_masses_say_which_is_before_burial(string first, string last, string? order)
    {
        string table = $"Hole,Lat,Long,Fast weight {last} (g),Fast weight {first} (g),Slow weight {last} (g),Slow weight {first} (g)\n"
            + string.Concat(Enumerable.Range(1, 4).Select(hole => $"{hole},48.1,9.2,1.3{hole},2.4{hole},2.0{hole},2.6{hole}\n"));
        Inquiry inquiry = AskedSheet.Ask(table, ("weighing-days", "yes"));
        Assert.DoesNotContain(inquiry.Ids(), id => id != "date-order");
        IReadOnlyList<BagRow> bags = AskedSheet.Read(table, [("weighing-days", "yes"), .. inquiry.Ids().Select(id => (id, order!))]);
        string form = order switch { "dmy" => "dd/MM/yyyy", "mdy" => "MM/dd/yyyy", _ => "yyyy-MM-dd" };
        Assert.Equal([(DateOnly.ParseExact(first, form, CultureInfo.InvariantCulture), DateOnly.ParseExact(last, form,
            CultureInfo.InvariantCulture))], Days(bags));
        Assert.All(bags, bag => Assert.True(bag.MassInitialGrams > bag.MassFinalGrams));
    }

    // A is the slow litter by the line below, whatever a kit calls it
    [Theory]
    [InlineData("A = litière lente ; B = litière rapide")]
    [InlineData("B: fast")]
    [InlineData("Legende: A = langsame Streu")]
    public void A_legend_of_letters_goes_before_the_letters_of_kits(string legend)
    {
        string table = "Hole,Lat,Long,A before (g),A after (g),B before (g),B after (g),Buried,Dug up\n"
            + string.Concat(Enumerable.Range(1, 4).Select(hole =>
                $"{hole},48.1,9.2,2.6{hole},2.0{hole},2.4{hole},1.3{hole},2025-05-14,2025-08-12\n")) + $"\n\"{legend}\"\n";
        Assert.All(AskedSheet.Read(table), bag => Assert.Equal(bag.LotId == "S", bag.MassFinalGrams > 1.9));
    }
}
