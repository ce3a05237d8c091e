using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Columns;

/// <summary>A table while it is gone through: what was found out so far, for those who look at the next thing.</summary>
internal sealed class AskedTable(Interview ask, TidyTable table, Campaign? campaign, DateOnly today)
{
    public Interview Ask => ask;

    public TidyTable Table => table;

    public Campaign? Campaign => campaign;

    public DateOnly Today => today;

    public MappingDraft Draft { get; } = new();

    public CampaignGroup? Group { get; set; }

    /// <summary>The rows that are read.</summary>
    public IReadOnlyList<IReadOnlyList<TidyCell>> Rows { get; private set; } = table.Rows;

    /// <summary>Numbers with ± are weighings of one bag each, and no means.</summary>
    public bool AreOfOneBag { get; private set; }

    public void ReadAsBags()
    {
        AreOfOneBag = true;
        Columns = AskedColumn.Of(table, Rows, areBags: true);
    }

    /// <summary>What the mapping calls each of the rows.</summary>
    public IReadOnlyList<string> RowNames { get; private set; } = Wide.RowNames.Of(table.Rows);

    public IReadOnlyList<AskedColumn> Columns { get; private set; } = AskedColumn.Of(table, table.Rows);

    /// <summary>The column of each field, in a table with a burial a row by litter.</summary>
    public Dictionary<(string Field, LitterRole? Role), AskedColumn> Chosen { get; } = [];

    public bool IsBurialRow { get; set; }

    /// <summary>The litter of columns whose names tell the two bags of a row apart by a letter, by ordinal.</summary>
    public Dictionary<int, LitterRole> RoleByLetter { get; } = [];

    /// <summary>The litter that the name of a column says, by a word, by a letter or by a lot of the campaign.</summary>
    public LitterRole? RoleOf(AskedColumn column) => column.Sense.Role
        ?? (RoleByLetter.TryGetValue(column.Ordinal, out LitterRole role) ? role : CampaignLots.RoleIn(column.Name, this));

    /// <summary>The litter of a letter, number or colour that tells the two bags of a row apart.</summary>
    public Dictionary<string, LitterRole> RoleOfLetter { get; } = [];

    /// <summary>Whether a remark is about the bags of a litter: it names this one, none or both. Rows of one bag have no litter of their
    /// own, and any remark is theirs.</summary>
    public bool MaySpeakOf(LitterRole? role, string remark) => role is null || OnlyRoleIn(remark) is not { } named || named == role;

    /// <summary>The only litter that a remark names, by a word or as bag B; null where it names none or both.</summary>
    private LitterRole? OnlyRoleIn(string remark)
    {
        string[] words = remark.Split([' ', ',', ';', '.', ':', '(', ')', '/', '!'], StringSplitOptions.RemoveEmptyEntries);
        LitterRole[] named = [.. words.Select(word => HeaderWords.RoleOf(word) ?? ((word.Length > 2 || !word.Any(char.IsLower))
            && RoleOfLetter.TryGetValue(Identifier.Folded(word), out LitterRole role) ? role : (LitterRole?)null))
            .OfType<LitterRole>().Distinct()];
        return named is [LitterRole only] ? only : null;
    }

    /// <summary>Ordinals of columns that were understood as masses of single bags.</summary>
    public HashSet<int> Masses { get; } = [];

    /// <summary>Ordinals of columns that a question offered, so that one who left them knows it.</summary>
    public HashSet<int> Offered { get; } = [];

    /// <summary>Ordinals of columns whose values stand in the mapping row by row, under another column's name.</summary>
    public HashSet<int> ReadByRow { get; } = [];

    /// <summary>Of columns of masses by ordinal, the column of what they were corrected to in some rows.</summary>
    public Dictionary<int, int> CorrectedBy { get; } = [];

    /// <summary>Of columns of masses by ordinal, the column of what was weighed again, with which the mean counts.</summary>
    public Dictionary<int, int> MeanWith { get; } = [];

    /// <summary>The key of the sentence that says why the table cannot be read; null where it can.</summary>
    public string? IsHopeless { get; set; }

    /// <summary>The litter of each row where a row is a bag; null where it is not known.</summary>
    public LitterRole?[] RoleOfRow { get; set; } = [];

    /// <summary>The lots of the campaign that each litter is taken from.</summary>
    public Dictionary<LitterRole, string> LotOf { get; } = [];

    /// <summary>The days of rows, as they are read.</summary>
    public Dictionary<int, DateOnly> BuriedOn { get; } = [];

    public Dictionary<int, DateOnly> RetrievedOn { get; } = [];

    /// <summary>The columns of the colours of rows, filled and written, where they mean something.</summary>
    public List<AskedColumn> Colours { get; } = [];

    /// <summary>What rows of a colour are: lost, torn, leave-out or nothing.</summary>
    public Dictionary<string, string> StateOfColour { get; } = [];

    public IEnumerable<LitterRole?> Roles => IsBurialRow ? [LitterRole.Fast, LitterRole.Slow] : [null];

    public AskedColumn? Of(string field, LitterRole? role = null) =>
        Chosen.TryGetValue((field, role), out AskedColumn? column) ? column
        : role is not null && Chosen.TryGetValue((field, null), out AskedColumn? common) ? common : null;

    /// <summary>Where a bag's last mass comes from: it, what was lost, or what is left.</summary>
    public AskedColumn? LastOf(LitterRole? role) =>
        Of(ColumnChoice.Final, role) ?? Of(ColumnChoice.Loss, role) ?? Of(ColumnChoice.Remaining, role);

    /// <summary>Days as lines beside the table write them of each row, by field.</summary>
    public Dictionary<string, AskedColumn> StatedDays { get; } = [];

    /// <summary>Name and position that lines say of each row.</summary>
    public (string? Name, string Place)[]? StatedPlaces { get; set; }

    /// <summary>The column of holes or bags by whose numbers lines give places, where no column names them.</summary>
    public AskedColumn? PlacedBy { get; set; }

    /// <summary>Titles, remarks and footnotes.</summary>
    public IEnumerable<TidyCell> Lines =>
    [
        .. table.Beside.Where(side => side.Columns.Count == 1).SelectMany(side => side.Rows.SelectMany(row => row).Select(cell =>
            side.Columns[0].Name == SideTable.Lines ? cell
                : cell with { Value = SheetCell.OfText($"{side.Columns[0].Name}: {cell.Value.Text}") })),
    ];

    /// <summary>All texts that stand beside the table or as titles of its rows, each once.</summary>
    public IEnumerable<TidyCell> AllBeside => Lines.Concat(table.Beside.Where(side => side.Columns.Count > 1)
            .SelectMany(side => side.Rows).SelectMany(row => row))
        .Concat(Columns.Where(column => column.Name == BlockJoiner.TitleColumn).SelectMany(column => column.Cells))
        .Where(cell => cell.Value.Text.Trim().Length > 0).DistinctBy(cell => cell.Value.Text);

    /// <summary>All columns of remarks, and that of the notes on cells.</summary>
    public IEnumerable<AskedColumn> Remarks => Columns.Where(column => column.Filled > 0 && !column.IsNumbers && !column.IsDates
        && (column.Sense.Has(Concept.Notes) || column.Name.StartsWith(RowLooks.CommentColumn, StringComparison.Ordinal)));

    /// <summary>The litter of a word that a legend explains: red = fast.</summary>
    public LitterRole? RoleByLegend(string word)
    {
        string[] tokens = Identifier.Folded(word).Split([' ', '-', '_', '/'], StringSplitOptions.RemoveEmptyEntries);
        foreach (string part in Lines.SelectMany(cell => cell.Value.Text.Split([',', ';', '\n', '.'])))
        {
            // Legend: A = slow
            string[] sides = part.Contains('=', StringComparison.Ordinal) ? part.Split('=', 2) : part.Split(':', 2);
            sides[0] = sides[0][(sides[0].LastIndexOf(':') + 1)..];
            if (sides.Length == 2 && tokens.Contains(Identifier.Folded(sides[0]).Trim()) && HeaderWords.RoleOf(sides[1]) is { } role)
                return role;
            if (sides.Length == 2 && tokens.Contains(Identifier.Folded(sides[1]).Trim()) && HeaderWords.RoleOf(sides[0]) is { } turned)
                return turned;
        }
        return null;
    }

    /// <summary>Leaves rows out for good: they go into the mapping by their places.</summary>
    public void LeaveOut(Func<int, bool> which)
    {
        if (!Enumerable.Range(0, Rows.Count).Any(which))
            return;
        JsonArray left = Draft.File["leave_out_rows"] as JsonArray ?? [];
        Draft.File["leave_out_rows"] = left;
        for (int i = 0; i < Rows.Count; i++)
        {
            if (which(i))
                left.Add(RowNames[i]);
        }
        RowNames = [.. RowNames.Where((_, i) => !which(i))];
        Rows = [.. Rows.Where((_, i) => !which(i))];
        Dictionary<int, AskedColumn> before = Columns.ToDictionary(column => column.Ordinal);
        Columns = AskedColumn.Of(table, Rows, AreOfOneBag);
        foreach ((string Field, LitterRole? Role) key in Chosen.Keys.ToArray())
            Chosen[key] = Columns[Chosen[key].Ordinal];
        for (int i = 0; i < Colours.Count; i++)
            Colours[i] = Columns[Colours[i].Ordinal];
        RoleOfRow = [.. RoleOfRow.Where((_, i) => !which(i))];
    }

    /// <summary>Where most of the cells of a row stand: some were filled down from above.</summary>
    public CellPlace PlaceOf(int row) => Rows[row].GroupBy(cell => (cell.Place.Sheet, cell.Place.Row)).MaxBy(cells => cells.Count())!
        .First().Place;

    /// <summary>A row as it is shown beside a question.</summary>
    public SeenCell SeenRow(int row)
    {
        CellPlace place = PlaceOf(row);
        string text = string.Join(" | ", Columns.Select(column => column.Spoken(row, ask.Words)).Where(cell => cell.Length > 0));
        return new SeenCell(place.Sheet, place.Row, null, null,
            ReceivedText.OneLine(ReceivedText.Masked(text.Length > 160 ? text[..160] : text)));
    }

    /// <summary>The campaign's words, then none: what a word of a sheet means by the curator.</summary>
    public string? WordOfCampaign(string word) => campaign?.Words.FirstOrDefault(entry =>
        Identifier.Folded(entry.Key.Trim()) == Identifier.Folded(word.Trim())).Value;

    public string? TreatmentOf(string word) => WordOfCampaign(word) ?? campaign?.Treatments.FirstOrDefault(treatment =>
        treatment.ByLanguage.Values.Any(said => Identifier.Folded(said) == Identifier.Folded(word.Trim())))?.Plain
        ?? TreatmentWords.Of(word, [.. (campaign?.Treatments ?? []).Select(treatment => treatment.Plain)]);
}
