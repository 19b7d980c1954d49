using Incubation.Service.CommandLine;
using Incubation.Service.Hosting;
using Incubation.Service.Http;
using Incubation.Service.People;

return await Verbs.RunAsync(args);

/// <summary>The rooms of the service: what each adds, and what it answers. This list is the table of contents.</summary>
internal static class Rooms
{
    public static void Add(IServiceCollection services, RunMode mode) => services
        .AddHosting(mode)
        .AddRecords()
        .AddPeople(mode)
        .AddHttp();

    public static void Map(WebApplication app)
    {
        RouteGroupBuilder api = app.UseHttp();
        app.MapHealth();
        api.MapPeople();
    }
}
