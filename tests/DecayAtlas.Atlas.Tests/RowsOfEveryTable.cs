using System.Reflection;

namespace DecayAtlas.Atlas.Tests;

/// <summary>The one declaration of a table, held to what it writes and reads. DuckDB reads the same files in
/// <see cref="ReleaseAsDuckDbReadsIt"/>.</summary>
public class RowsOfEveryTable : AtlasInTemporaryFolder
{
    [Fact]
    public void Come_back_as_they_went_in_full_or_with_all_that_may_be_missing_missing()
    {
        foreach (Table table in AtlasTables.All)
        {
            typeof(RowsOfEveryTable).GetMethod(nameof(ComeBack), BindingFlags.NonPublic | BindingFlags.Instance)!
                .MakeGenericMethod(table.GetType().GetGenericArguments()).Invoke(this, [table]);
        }
    }

    private void ComeBack<TRow>(Table<TRow> table)
        where TRow : class
    {
        PropertyInfo[] columns = [.. typeof(TRow).GetProperties().Where(p => p.IsDefined(typeof(ColumnAttribute)) && p.CanWrite)];
        TRow[] rows = [Filled<TRow>(columns, 1, isFull: true), Filled<TRow>(columns, 2, isFull: false),
            Filled<TRow>(columns, 3, isFull: true)];
        PartWriter writer = new(Atlas);
        IReadOnlyList<TRow> read = writer.RowsOf([writer.Write(table, rows)]).Rows(table);

        Assert.Equal(rows.Length, read.Count);
        foreach (PropertyInfo column in typeof(TRow).GetProperties().Where(p => p.IsDefined(typeof(ColumnAttribute))))
            Assert.Equal(rows.Select(column.GetValue), read.Select(column.GetValue));
    }

    /// <summary>A row with another value in each column, or in those columns only that every row has.</summary>
    private static TRow Filled<TRow>(PropertyInfo[] columns, int seed, bool isFull)
    {
        TRow row = Activator.CreateInstance<TRow>();
        for (int i = 0; i < columns.Length; i++)
        {
            bool mayBeMissing = new NullabilityInfoContext().Create(columns[i]).WriteState == NullabilityState.Nullable;
            if (isFull || !mayBeMissing)
            {
                columns[i]
                    .SetValue(row,
                        ValueOf(Nullable.GetUnderlyingType(columns[i].PropertyType) ?? columns[i].PropertyType, (100 * seed) + i));
            }
        }

        return row;
    }

    private static object ValueOf(Type type, int n) =>
        type == typeof(string) ? $"text {n}"
        : type == typeof(double) ? n / 7.0
        : type == typeof(int) ? n
        : type == typeof(bool) ? n % 2 == 0
        : type == typeof(ReleasedParameter) ? new ReleasedParameter(n / 7.0, n / 11.0, n / 13.0, n / 17.0)
        : type == typeof(DateOnly) ? new DateOnly(2024, 1, 1).AddDays(n)
        : new byte[] { (byte)n };

    [Fact]
    public void A_file_that_can_t_be_read_is_named()
    {
        Publish();
        string file = Directory.EnumerateFiles(Path.Combine(Atlas.Current, "bags"), "*.parquet", SearchOption.AllDirectories).First();
        File.Delete(file);   // a hard link: the part behind it stays
        File.WriteAllText(file, "not Parquet");
        AtlasException fault = Assert.Throws<AtlasException>(() => new ReleaseReader(Atlas).Rows(AtlasTables.Bags));
        Assert.Contains(Path.GetFileName(file), fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_table_that_an_earlier_version_did_not_publish_is_told()
    {
        Publish();
        Directory.Delete(Path.Combine(Atlas.Current, "curves"), recursive: true);
        ReleaseReader reader = new(Atlas);
        Assert.False(reader.Has(AtlasTables.Curves));
        Assert.Contains("no table curves", Assert.Throws<AtlasException>(() => reader.Rows(AtlasTables.Curves)).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Partition_keys_are_read_from_the_names_of_folders()
    {
        Publish();
        Assert.Equal(["N50E010", "S40W080", null], new ReleaseReader(Atlas).Rows(AtlasTables.Bags).GroupBy(b => b.SiteKey)
            .OrderBy(g => g.Key).Select(g => g.First().Block));
    }
}
