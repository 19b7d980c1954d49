using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;

namespace Incubation.Storage.Records;

/// <summary>Builds the context for <c>dotnet ef migrations</c>, which needs the model and never a database.</summary>
public sealed class RecordsDesignTime : IDesignTimeDbContextFactory<RecordsContext>
{
    /// <inheritdoc/>
    public RecordsContext CreateDbContext(string[] args)
        => new(new DbContextOptionsBuilder<RecordsContext>().UseSqlite("Data Source=:memory:").Options);
}
