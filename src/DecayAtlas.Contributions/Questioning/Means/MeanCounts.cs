using System.Globalization;

namespace DecayAtlas.Contributions.Questioning.Means;

/// <summary>How many burials are behind each mean: by a column, by n = 5 in a name or a line, else asked.</summary>
internal sealed class MeanCounts(AskedTable table)
{
    private readonly AskedColumn? _column = MeanColumns.CountOf(table), _fast = MeanColumns.CountOf(table, LitterRole.Fast),
        _slow = MeanColumns.CountOf(table, LitterRole.Slow);

    private bool IsOfEach => _column is null && _fast is not null && _slow is not null;

    /// <summary>Where all rows are means of so many: of one where nobody speaks of means.</summary>
    public double? OfAll { get; private set; } = MeanColumns.CountOf(table) is null
        && MeanColumns.CountOf(table, LitterRole.Fast) is null ? 1 : null;

    /// <param name="role">Null for the burials that both litters have.</param>
    public double? At(int row, LitterRole? role) => IsOfEach ? role switch
    {
        LitterRole.Fast => Read(_fast!, row),
        LitterRole.Slow => Read(_slow!, row),
        _ => new[] { Read(_fast!, row), Read(_slow!, row) }.Min(),
    }
        : _column is null ? OfAll : Read(_column, row);

    private static double? Read(AskedColumn column, int row) => NumberForm.Of(column)[0].Read(column, row);

    public void Make()
    {
        if (_column is not null || IsOfEach)
        {
            table.ReadByRow.UnionWith((_column is not null ? new[] { _column } : [_fast!, _slow!]).Select(column => column.Ordinal));
            return;
        }
        (string Text, int Count)[] said = MeanColumns.SaidIn(table);
        if (said.Select(one => one.Count).Distinct().Count() == 1)
        {
            OfAll = said[0].Count;
            table.Ask.Tell("mean-of", table.Rows.Count, [], said[0].Count, ReceivedText.OneLine(ReceivedText.Masked(said[0].Text)));
            return;
        }
        OfAll = table.Ask.Enter(Interview.Meaning, "burials", QuestionKind.Number, text => int.TryParse(text, NumberStyles.None,
            CultureInfo.InvariantCulture, out int n) && n is > 0 and < 1000, null, []) is { } answer
            ? double.Parse(answer, CultureInfo.InvariantCulture) : null;
    }
}
