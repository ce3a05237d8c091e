using System.Text;

namespace DecayAtlas.Atlas.Releases;

/// <summary>Every table and column, those that are sent and those that are released, as one Markdown page.</summary>
public static class DataDictionary
{
    public static string ToMarkdown()
    {
        StringBuilder text = new();
        text.Append("""
            # Data dictionary

            This page is made from the schema and the code; a test fails when it is stale.

            - [What a contribution holds](#what-a-contribution-holds)
            - [Words and their concepts](#words-and-their-concepts)
            - [What a release holds](#what-a-release-holds)

            ## What a contribution holds


            """);
        text.Append(SchemaDictionary.ToMarkdown().Trim()).Append("\n\n## Words and their concepts\n\n");
        text.Append(VocabularyPage.ToMarkdown().Trim()).Append("\n\n## What a release holds\n\n");
        text.Append("""
            Every table is a folder of Parquet files. Partition columns are in the folder names (`retrieved_year=2024/block=S40W030/`), in the
            way that DuckDB, Arrow and Spark read as columns; a missing value is `__HIVE_DEFAULT_PARTITION__`. `block` is the 10 degree block
            of the published coordinates, named by its south-west corner. Units and meanings also stand in each file's metadata
            (`decayatlas.columns`). A missing number is null, never 0 or a sentinel.

            """);
        foreach (Table table in AtlasTables.All)
            Append(text, table);
        return text.ToString().ReplaceLineEndings("\n");
    }

    private static void Append(StringBuilder text, Table table)
    {
        string partitions = table.PartitionedBy.Count > 0 ? $" Partitioned by {Names(table.PartitionedBy)}." : "";
        text.Append(InvariantCulture, $"""

            ### {table.Name}

            {table.Description}

            Key: {Names(table.Key)}.{partitions}

            | column | type | unit | meaning |
            | --- | --- | --- | --- |

            """);
        foreach (ColumnInfo column in table.ColumnInfos)
            text.Append(InvariantCulture, $"| `{column.Name}` | {column.Type} | {column.Unit} | {column.Description} |\n");
    }

    private static string Names(IEnumerable<string> names) => string.Join(", ", names.Select(n => $"`{n}`"));
}
