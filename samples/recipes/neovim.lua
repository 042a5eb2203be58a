-- In init.lua (Neovim 0.11 or newer).
vim.lsp.config('gearquill', {
  cmd = { 'gearquill-server', '--stdio' },
  filetypes = { 'yaml' },
  root_markers = { 'shop.yaml' },
  workspace_required = true,
})
vim.lsp.enable('gearquill')
